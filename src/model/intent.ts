import type { Filter } from '../filters/filter.js';

/** The three filters that guard a pilot; an intent may also carry a role of the user's own. */
export const protectiveRoles = ['low-cut', 'pilot-cut', 'high-cut'] as const;

/** One of the three. */
export type ProtectiveRole = (typeof protectiveRoles)[number];

/** One filter wanted, free of any desk, and the role it plays. */
export interface Intent extends Filter {
  readonly role: string;
  /**
   * Whether a protective fit may move it, a third of an octave at most, and may take what serves as well: so with filters
   * derived from a system. What a person wrote is held at its nearest steps unless this says otherwise.
   */
  readonly mayMove?: boolean;
}

/** An intents file: filters wanted, for whatever purpose. */
export interface IntentsDocument {
  readonly format: 'bandwright-intents/1';
  readonly title: string;
  readonly intents: readonly Intent[];
}
