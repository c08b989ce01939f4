import type { AskByAddress, OscAddressed } from './target.js';

/**
 * The template of the address where something is asked for: its own one, or the one for everything, with the address
 * it is written at, or that one's template, in its place. Null where the target has neither.
 */
export const askingTemplate = (
  { address, addresses }: Pick<AskByAddress, 'address' | 'addresses'>,
  name: OscAddressed,
  written: string,
): string | null => addresses?.[name] ?? address?.replaceAll('{address}', () => written) ?? null;
