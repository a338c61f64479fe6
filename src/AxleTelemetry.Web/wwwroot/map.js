// The map of the fleet: outlines that come with the program, a mark a vehicle. Nothing is fetched from anywhere unless the settings name pictures to lay it on.
import { engine, follow, look } from "./engine.js";
import { MapPictures, mercator } from "./pictures.js";

const shapes = { over: "rect", likely: "triangle", untold: "diamond", near: "emptyCircle", within: "circle", quiet: "path://M0 0h3v10H0ZM5 0h3v10H5Z", off: "rect" };
const layers = ["off", "quiet", "within", "near", "untold", "likely", "over"];
// A country narrower than this, in degrees, has no room for its name.
const narrow = 0.6;
const named = new Set();
let countries;

async function outlines(address) {
  const { grid, arcs, countries: all } = await (await fetch(address)).json();
  const lines = arcs.map(steps => {
    const line = [];
    let [x, y] = [0, 0];
    for (let i = 0; i < steps.length; i += 2) line.push([(x += steps[i]) * grid, (y += steps[i + 1]) * grid]);
    return line;
  });
  const ring = numbers => numbers.flatMap((n, i) => {
    const line = n < 0 ? lines[-n - 1].toReversed() : lines[n];
    return i === 0 ? line : line.slice(1);
  });
  for (const { code, polygons } of all) {
    const widest = Math.max(...polygons.map(([outer]) => { const x = ring(outer).map(p => p[0]); return Math.max(...x) - Math.min(...x); }));
    if (code && widest >= narrow) named.add(code);
  }
  const features = all.map(c => ({
    type: "Feature", properties: { name: c.code ?? c.name, long: c.name },
    geometry: { type: "MultiPolygon", coordinates: c.polygons.map(p => p.map(ring)) },
  }));
  return { type: "FeatureCollection", features };
}

export async function draw(element, { engine: address, outlines: map, pictures }) {
  const echarts = await engine(address);
  countries ??= outlines(map).then(json => echarts.registerMap("countries", json));
  await countries;
  return new FleetMap(element, echarts, pictures);
}

class FleetMap {
  #points = new Map();
  #view = null;
  #drawn = false;

  #pictures = null;

  constructor(element, echarts, pictures) {
    this.element = element;
    element.replaceChildren();
    this.chart = echarts.init(element, null, { renderer: "canvas" });
    this.end = follow(element, this.chart, () => this.#draw());
    if (pictures) this.#pictures = new MapPictures(element, this.chart, pictures);
    this.chart.on("georoam", () => this.#marks());
    this.chart.on("click", "series.scatter", e => window.Blazor.navigateTo(`/vehicle/${e.name.split("/").map(encodeURIComponent).join("/")}`));
    element.dataset.ready = "false";
  }

  /** Takes vehicles; draws them when no more are to come. */
  show(points, more) {
    for (const [name, ...rest] of points) this.#points.set(name, rest);
    if (more) return;
    if (this.#view === null) this.fit();
    else this.#marks();
  }

  /** Lets go of vehicles that are no more, or of which no place is known any more. */
  hide(names) {
    for (const name of names) this.#points.delete(name);
    this.#marks();
  }

  fit() {
    const all = [...this.#points.values()];
    if (all.length === 0) return;
    const [lon, lat] = [all.map(p => p[0]), all.map(p => p[1])];
    this.#to([Math.min(...lon), Math.max(...lon)], [Math.min(...lat), Math.max(...lat)]);
  }

  find(name) {
    const point = this.#points.get(name);
    if (!point) return;
    this.#to([point[0] - 0.6, point[0] + 0.6], [point[1] - 0.4, point[1] + 0.4]);
    this.chart.dispatchAction({ type: "showTip", seriesIndex: layers.indexOf(point[2]), name });
  }

  dispose() { this.end(); }

  // The engine zooms a map as a whole; what is to be seen is told as the corners of a box.
  #to([west, east], [south, north]) {
    const middle = (south + north) / 2;
    const aspect = Math.cos(middle * Math.PI / 180);
    const { clientWidth: width, clientHeight: height } = this.element;
    let [w, h] = [Math.max(east - west, 0.5) * 1.25, Math.max(north - south, 0.35) * 1.25];
    if (w * aspect / h > width / height) h = w * aspect * height / width;
    else w = h * width / height / aspect;
    const x = (west + east) / 2;
    this.#view = { aspect, corners: [[x - w / 2, middle + h / 2], [x + w / 2, middle - h / 2]] };
    this.#draw();
  }

  #draw() {
    if (!this.#view) return;
    const colour = look();
    this.chart.setOption({
      animation: false,
      textStyle: { fontFamily: getComputedStyle(document.body).fontFamily },
      tooltip: {
        confine: true, backgroundColor: colour("paper"), borderColor: colour("ink"), borderWidth: 1, padding: [4, 8], extraCssText: "box-shadow:none;border-radius:0",
        textStyle: { color: colour("ink"), fontSize: 12 }, formatter: p => p.seriesType === "scatter" ? this.#text(p.value[2]) : p.name,
      },
      geo: {
        map: "countries", roam: true, aspectScale: this.#view.aspect, ...(this.#pictures ? { projection: mercator } : {}), boundingCoords: this.#view.corners, center: undefined, zoom: 1,
        left: 0, right: 0, top: 0, bottom: 0, silent: true, scaleLimit: { min: 0.02, max: 60 },
        itemStyle: { areaColor: this.#pictures ? "transparent" : colour("land"), borderColor: colour("border"), borderWidth: 1 }, emphasis: { disabled: true }, select: { disabled: true },
        label: { show: !this.#pictures, color: colour("quiet"), fontSize: 10, formatter: p => named.has(p.name) ? p.name : "" },
      },
      series: layers.map(name => ({
        type: "scatter", coordinateSystem: "geo", name, symbol: shapes[name], symbolSize: name === "quiet" ? 7 : name === "off" ? [9, 3] : 10, z: 10 + layers.indexOf(name),
        itemStyle: { color: colour(name === "off" ? "quiet" : name), borderColor: name === "near" ? colour(name) : colour("paper"), borderWidth: name === "near" ? 2 : 1 }, data: [],
      })),
    }, { notMerge: true });
    this.#drawn = true;
    this.#marks();
  }

  #marks() {
    if (!this.#drawn) return;
    const data = Object.fromEntries(layers.map(l => [l, []]));
    for (const [name, [lon, lat, kind, words]] of this.#points) data[kind].push({ name, value: [lon, lat, words] });
    this.chart.setOption({ series: layers.map(name => ({ name, data: data[name] })) });
    this.#pictures?.lay();
    this.element.dataset.marks = this.#points.size;
    this.element.dataset.ready = "true";
  }

  #text(words) {
    const line = document.createElement("span");
    line.textContent = words;
    return line;
  }
}
