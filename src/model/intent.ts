import type { Filter } from '../filters/filter.js';

/** The three filters that guard a pilot; an intent may also carry a role of the user's own. */
export const protectiveRoles = ['low-cut', 'pilot-cut', 'high-cut'] as const;

export type ProtectiveRole = (typeof protectiveRoles)[number];

/** One filter wanted, free of any desk, and the role it plays. */
export interface Intent extends Filter {
  readonly role: string;
}

/** An intents file: filters wanted, for whatever purpose. */
export interface IntentsDocument {
  readonly format: 'bandwright-intents/1';
  readonly title: string;
  readonly intents: readonly Intent[];
}
