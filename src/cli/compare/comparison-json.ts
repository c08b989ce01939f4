import type { ComparedDesk } from '../../analysis/compare/compared-desk.js';
import type { Rig } from '../../model/rig.js';

/** The comparison whole, for programs: every desk with its place, from 1. */
export const comparisonJson = (rig: Rig, compared: readonly ComparedDesk[]): string => {
  const desks = compared.map((desk, index) => ({ place: index + 1, ...desk }));
  return `${JSON.stringify({ rig: { title: rig.title }, desks }, null, 2)}\n`;
};
