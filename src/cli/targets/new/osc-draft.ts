import type { FilterType } from '../../../filters/filter.js';
import { knobNames } from '../../../model/knob.js';
import type { Osc, OscAddressed, OscEncoding, OscParameter, OscRead, Slot } from '../../../model/target.js';

/** What is known of how OSC reaches a desk, while it is asked for. */
export interface OscDraft {
  /** Null where the desk has none. */
  readonly transport: Osc['transports'][number] | null;
  readonly isPortTold: boolean;
  /** Null for what has no address. */
  readonly addresses: Readonly<Partial<Record<OscAddressed, string | null>>>;
  /** An example whose numbers have to be told apart. */
  readonly example: { readonly of: OscAddressed; readonly address: string } | null;
  readonly encodings: Readonly<Partial<Record<OscParameter, OscEncoding>>>;
  readonly read: OscRead | null;
  readonly isAskedElsewhere: boolean;
  /** Taken over whole from another target. */
  readonly whole: Osc | null;
}

export const noOsc: OscDraft = {
  transport: null,
  isPortTold: false,
  addresses: {},
  example: null,
  encodings: {},
  read: null,
  isAskedElsewhere: false,
  whole: null,
};

/** What a desk with such slots may have addresses for: each knob that can be turned, the switches, and a name to read. */
export const addressable = (slots: readonly Slot[]): readonly OscAddressed[] => {
  const types = slots.flatMap((slot) => Object.values(slot.types));
  const turned = knobNames.filter((knob) => types.some((type) => typeof type[knob] === 'string'));
  const isSwitched = slots.some((slot) => Object.keys(slot.types).length > 1);
  return [...turned, 'on', ...(isSwitched ? (['type'] as const) : []), 'outputName'];
};

/** The types slots can be switched to, in the order they come. */
export const switchedTypes = (slots: readonly Slot[]): readonly FilterType[] => [
  ...new Set(slots.flatMap((slot) => Object.keys(slot.types) as FilterType[])),
];

/** What has an address and travels both ways. */
export const encodable = ({ addresses }: OscDraft): readonly OscParameter[] =>
  (Object.keys(addresses) as OscAddressed[]).filter(
    (name): name is OscParameter => name !== 'outputName' && typeof addresses[name] === 'string',
  );

/** An encoding, filled in where it is not told yet, or not wholly. */
const completed = (
  parameter: OscParameter,
  told: OscEncoding = { as: 'index', type: 'i' },
  types: readonly FilterType[],
): OscEncoding =>
  parameter === 'type' && told.as !== 'text' && !told.order ? { ...told, order: types } : told;

/** OSC as a target has it; nothing where the desk has none, or nothing of it is known yet. */
export const writtenOsc = (draft: OscDraft, slots: readonly Slot[]): { readonly osc?: Osc } => {
  const { transport, addresses, encodings, read, whole } = draft;
  if (whole) return { osc: whole };
  const told = Object.entries(addresses).filter(([, address]) => typeof address === 'string');
  if (transport === null || told.length === 0) return {};
  const types = switchedTypes(slots);
  return {
    osc: {
      transports: [transport],
      addresses: Object.fromEntries(told) as Osc['addresses'],
      encodings: Object.fromEntries(
        encodable(draft).map((name) => [name, completed(name, encodings[name], types)]),
      ),
      read: read ?? 'none',
    },
  };
};
