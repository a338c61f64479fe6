// Makes outlines.json from the outlines of AxleTelemetry.Places (Natural Earth, public domain; see its outlines/README.md):
//   node make-outlines.mjs ../../../AxleTelemetry.Places/outlines/countries-10m.json.gz
// Arcs stay shared between neighbours and are thinned by Visvalingam's areas, so that neighbours still fit together.
import { readFileSync, writeFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";

const least = 0.001; // square degrees, about 8 km2 at 50 degrees
const source = JSON.parse(gunzipSync(readFileSync(process.argv[2])));
const grid = 0.01; // degrees

const points = arc => {
  let [x, y] = [0, 0];
  return arc.map(([dx, dy]) => { x += dx; y += dy; return [x * source.scale[0] + source.translate[0], y * source.scale[1] + source.translate[1]]; });
};

const area = (a, b, c) => Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2;

function thinned(line) {
  const kept = line.slice();
  while (kept.length > 2) {
    let [at, smallest] = [-1, least];
    for (let i = 1; i < kept.length - 1; i++) {
      const a = area(kept[i - 1], kept[i], kept[i + 1]);
      if (a < smallest) [at, smallest] = [i, a];
    }
    if (at < 0) break;
    kept.splice(at, 1);
  }
  return kept;
}

function steps(line) {
  let [x, y] = [0, 0];
  return line.map(([lon, lat]) => {
    const [nx, ny] = [Math.round(lon / grid), Math.round(lat / grid)];
    const step = [nx - x, ny - y];
    [x, y] = [nx, ny];
    return step;
  }).filter(([dx, dy], i) => i === 0 || dx !== 0 || dy !== 0).flat();
}

// An island that is a dot on a map of a fleet is left out; what is left of an outline is at least its largest ring.
const lengthOf = ring => ring.reduce((n, a) => n + arcs[a < 0 ? -a - 1 : a].length / 2, 0);
const arcs = source.arcs.map(a => steps(thinned(points(a))));
const countries = source.countries.map(({ code, name, polygons }) => {
  const worth = polygons.filter(p => lengthOf(p[0]) > 4);
  return { code, name, polygons: worth.length > 0 ? worth : [polygons.reduce((a, b) => (lengthOf(b[0]) > lengthOf(a[0]) ? b : a))] };
});

const used = new Map();
const renumber = n => {
  const arc = n < 0 ? -n - 1 : n;
  if (!used.has(arc)) used.set(arc, used.size);
  return n < 0 ? -used.get(arc) - 1 : used.get(arc);
};
const out = countries.map(c => ({ ...c, polygons: c.polygons.map(p => p.map(r => r.map(renumber))) }));
const text = JSON.stringify({ grid, arcs: [...used.keys()].map(a => arcs[a]), countries: out });
writeFileSync(new URL("outlines.json", import.meta.url), text + "\n");
console.log(`${out.length} outlines, ${used.size} arcs, ${text.length} bytes`);
