// Grafana publishes its dashboard as TypeScript types (@grafana/schema, Apache-2.0). This writes them as JSON schemas, so that tests need no npm:
//     npm install && node make.mjs
// One file for the dashboard and one for each sort of panel in use: types of equal name in different panels must not meet.
import { readFileSync, writeFileSync, rmSync } from 'node:fs';
import { createGenerator } from 'ts-json-schema-generator';

const raw = './node_modules/@grafana/schema/dist/types/raw';
const panel = name => `import type { Options, FieldConfig } from '${raw}/composable/${name}/panelcfg/x/types.gen';
export interface Root { options: Options; custom: FieldConfig }\n`;
const roots = {
  'dashboard': `import type { Dashboard } from '${raw}/dashboard/x/types.gen';\nexport interface Root extends Dashboard {}\n`,
  'timeseries': panel('timeseries'),
  'table': panel('table'),
  'state-timeline': panel('statetimeline'),
};
const { version } = JSON.parse(readFileSync('node_modules/@grafana/schema/package.json', 'utf8'));
// Prose of the types is left out; a property that is itself called description is an object and stays.
const bare = value => Array.isArray(value) ? value.map(bare)
  : value === null || typeof value !== 'object' ? value
  : Object.fromEntries(Object.entries(value).filter(([key, v]) => !((key === 'description' || key === 'deprecated') && typeof v === 'string')).map(([key, v]) => [key, bare(v)]));

writeFileSync('tsconfig.json', JSON.stringify({ compilerOptions: { strict: true, module: 'esnext', moduleResolution: 'bundler', noEmit: true }, include: ['root.ts'] }));
for (const [name, text] of Object.entries(roots)) {
  writeFileSync('root.ts', text);
  const schema = createGenerator({ path: 'root.ts', tsconfig: 'tsconfig.json', type: 'Root', skipTypeCheck: true }).createSchema('Root');
  writeFileSync(`${name}.schema.json`, JSON.stringify({ $comment: `From @grafana/schema ${version}, Apache-2.0 (LICENSE); made by make.mjs.`, ...bare(schema) }, null, 1) + '\n');
}
rmSync('root.ts');
rmSync('tsconfig.json');
