import { csv } from './csv.js';
import type { Exporter } from './exporter.js';
import { json } from './json.js';
import { type ExporterName, exporterNames } from './names.js';
import { osc } from './osc.js';
import { oscBinary } from './osc-binary.js';
import { oscBundle } from './osc-bundle.js';
import { sheet } from './sheet.js';
import { svg } from './svg.js';
import { textForm } from './text.js';
import { xml } from './xml.js';

const byName: Readonly<Record<ExporterName, Exporter>> = {
  text: textForm,
  sheet,
  svg,
  json,
  xml,
  csv,
  osc,
  'osc-binary': oscBinary,
  'osc-bundle': oscBundle,
};

/** Every form a recipe can be written in, in the order people are offered them. */
export const exporters: readonly Exporter[] = exporterNames.map((name) => byName[name]);
