// Pictures of a map in squares of 256 pixels, as servers of tiles have them, laid below what the drawing engine draws.

const side = 256, most = 80;
const north = 85.0511287798;

/** The projection of EPSG:3857, in radians; down is greater, as on a screen. */
export const mercator = {
  project: ([lon, lat]) => [lon * Math.PI / 180, -Math.log(Math.tan(Math.PI / 4 + Math.max(-north, Math.min(north, lat)) * Math.PI / 360))],
  unproject: ([x, y]) => [x * 180 / Math.PI, (2 * Math.atan(Math.exp(-y)) - Math.PI / 2) * 180 / Math.PI],
};

export class MapPictures {
  #squares = new Map();

  constructor(element, chart, { url, mostZoom }) {
    this.chart = chart;
    this.url = url;
    this.mostZoom = mostZoom;
    this.element = element;
    this.place = document.createElement("div");
    this.place.className = "pictures";
    this.place.setAttribute("aria-hidden", "true");
    element.append(this.place);
  }

  /** Lays what the present view needs, and takes away the rest. */
  lay() {
    const [left, top] = this.chart.convertToPixel("geo", [-180, north]);
    const [right] = this.chart.convertToPixel("geo", [180, north]);
    const zoom = Math.max(0, Math.min(this.mostZoom, Math.round(Math.log2((right - left) / side))));
    const count = 2 ** zoom;
    const size = (right - left) / count;
    const { clientWidth: width, clientHeight: height } = this.element;
    const within = (from, to) => [Math.floor(-from / size), Math.floor((to - from) / size)];
    const [[x0, x1], [y0, y1]] = [within(left, width), within(top, height)];
    const wanted = new Map();
    for (let y = Math.max(0, y0); y <= Math.min(count - 1, y1); y++)
      for (let x = Math.max(0, x0); x <= Math.min(count - 1, x1) && wanted.size < most; x++)
        wanted.set(`${zoom}/${x}/${y}`, [x, y]);
    for (const [key, square] of this.#squares) if (!wanted.has(key)) this.#drop(key, square);
    for (const [key, [x, y]] of wanted) {
      const square = this.#squares.get(key) ?? this.#fetch(key, zoom, x, y);
      // Edges fall on whole pixels, or a line of the background shows between two.
      const [l, t] = [Math.round(left + x * size), Math.round(top + y * size)];
      Object.assign(square.style, { left: `${l}px`, top: `${t}px`, width: `${Math.round(left + (x + 1) * size) - l}px`, height: `${Math.round(top + (y + 1) * size) - t}px` });
    }
  }

  #fetch(key, z, x, y) {
    const square = document.createElement("img");
    square.alt = "";
    square.referrerPolicy = "no-referrer";
    // One that cannot be had leaves a gap; outlines and vehicles are there all the same.
    square.onerror = () => square.remove();
    square.src = this.url.replace("{z}", z).replace("{x}", x).replace("{y}", y);
    this.#squares.set(key, square);
    this.place.append(square);
    return square;
  }

  #drop(key, square) {
    square.remove();
    this.#squares.delete(key);
  }
}
