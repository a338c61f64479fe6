// Makes countries-10m.json.gz from the npm packages world-atlas and i18n-iso-countries:
//   node make-outlines.mjs <world-atlas folder> <i18n-iso-countries folder>
// Arcs stay shared between neighbours, so that a border is one line and not two that nearly agree.
import { readFileSync, writeFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { join } from "node:path";

const [atlas, iso] = process.argv.slice(2);
const read = (...path) => JSON.parse(readFileSync(join(...path), "utf8"));
const topology = read(atlas, "countries-10m.json");
const alpha2 = new Map(read(iso, "codes.json").map(([two, , numeric]) => [numeric, two]));

const polygons = g => (g.type === "Polygon" ? [g.arcs] : g.arcs ?? []);
const outline = g => ({ code: alpha2.get(g.id) ?? null, name: g.properties.name, polygons: polygons(g) });
const countries = topology.objects.countries.geometries.map(outline);

const { scale, translate } = topology.transform;
const text = JSON.stringify({ scale, translate, arcs: topology.arcs, countries });
writeFileSync(new URL("countries-10m.json.gz", import.meta.url), gzipSync(text, { level: 9 }));
console.log("without a code:", countries.filter(c => c.code === null).map(c => c.name).join(", "));
