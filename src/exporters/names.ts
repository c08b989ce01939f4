/**
 * Every form a recipe can be written in, by name, in the order people are offered them. Apart from the exporters
 * themselves, so that the command line can tell the names without loading any.
 */
export const exporterNames = [
  'text',
  'sheet',
  'svg',
  'json',
  'xml',
  'csv',
  'osc',
  'osc-binary',
  'osc-bundle',
] as const;

export type ExporterName = (typeof exporterNames)[number];
