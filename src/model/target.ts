import type { CutFamily, FilterType } from '../filters/filter.js';
import type { Realisation } from '../filters/realisation.js';
import type { QuantiserSpec } from '../quantisers/quantiser.js';
import type { Hz } from '../units/quantity.js';
import type { Knob } from './knob.js';

/** A knob's grid: the name of one of the target's quantisers, or a number where the value is fixed. */
export type GridReference = string | number;

/** The knobs a slot offers while it is set to one filter type. */
export interface SlotType extends Readonly<Partial<Record<Knob, GridReference>>> {
  readonly frequency: GridReference;
  /** The layout of a cut with a slope; Butterworth where the target does not say. */
  readonly family?: CutFamily;
}

/** One filter section of a desk output. */
export interface Slot {
  readonly id: string;
  readonly types: Readonly<Partial<Record<FilterType, SlotType>>>;
  /** The order in which OSC counts this slot's types, where that differs from the order of all slots. */
  readonly typeOrder?: readonly FilterType[];
}

/** How the desk shows the value of a knob; display only, never what is sent. */
export interface NumberDisplay {
  readonly significantDigits?: number;
  readonly decimals?: number;
  /** From this value up a frequency is shown in kHz; in Hz throughout where it is left out. */
  readonly kiloFromHz?: Hz;
}

/** How the desk shows values and what it calls things: for people, never for what is sent. */
export interface Display extends Readonly<Partial<Record<Knob, NumberDisplay>>> {
  /** What the desk calls each filter type, where that differs from the words people use. */
  readonly typeLabels?: Readonly<Partial<Record<FilterType, string>>>;
}

/** Whether something was tried on the real thing, and what came of it. */
export type EvidenceState = 'untested' | 'tested' | 'known-bad';

/** What has been tried on the real thing. */
export interface Evidence {
  readonly grid: EvidenceState;
  readonly response: EvidenceState;
  readonly push: EvidenceState;
}

/** How packets travel: a datagram each, or on a stream by SLIP (RFC 1055) or behind their size. */
export const oscTransports = ['udp', 'tcp-slip', 'tcp-length-prefix'] as const;

/** One of the transports. */
export type OscTransport = (typeof oscTransports)[number];

/** What OSC can reach of a slot. */
export type OscParameter = Knob | 'type' | 'on';

/**
 * How a value travels: `engineering` (Hz, dB, Q, octaves), `index` (the step), `fraction` (step over last
 * step, 0 to 1), `text` (as displayed), each as one OSC type.
 * For `type`, `index` and `fraction` count in `order`, or in the slot's own; for `on`, `index` is 1 or 0.
 */
export interface OscEncoding {
  readonly as: 'engineering' | 'index' | 'fraction' | 'text';
  readonly type: 'f' | 'i' | 'd' | 'h' | 's';
  readonly order?: readonly FilterType[];
}

/** What has an address: what OSC can reach of a slot, and the name of an output, which is only read. */
export type OscAddressed = OscParameter | 'outputName';

/** Address templates with `{output}` and `{slot}`; `{output:02}` pads with zeros. */
export type OscAddresses = Readonly<Partial<Record<OscAddressed, string>>>;

/** A value is asked for at an address of its own, without arguments. */
export interface AskByAddress {
  readonly by: 'address';
  /** Where everything is asked for; `{address}` stands for the address the value is written at. */
  readonly address?: string;
  /** Where what is asked for elsewhere is, as the addresses of a target. */
  readonly addresses?: OscAddresses;
  /** Where the answer comes: at the address that was asked, or at the one the value is written at. */
  readonly answeredAt: 'asked-address' | 'written-address';
}

/** A value is asked for at the address it is written at, by an argument that no filter can be set to. */
export interface AskByArgument {
  readonly by: 'argument';
  readonly argument: {
    /** A text, or OSC's nil or impulse. */
    readonly type: 's' | 'N' | 'I';
    /** What `s` says. */
    readonly text?: string;
  };
}

/** How a value is asked for: the same address without arguments, in another way, or not at all. */
export type OscRead = 'same-address-without-arguments' | 'none' | AskByAddress | AskByArgument;

/** How OSC reaches a desk. */
export interface Osc {
  readonly transports: readonly { readonly kind: OscTransport; readonly port?: number }[];
  readonly addresses: OscAddresses;
  readonly encodings: Readonly<Partial<Record<OscParameter, OscEncoding>>>;
  readonly read: OscRead;
}

/** A desk as this tool needs it. */
export interface Target {
  readonly format: 'bandwright-target/1';
  readonly id: string;
  readonly title: string;
  readonly provenance: string;
  readonly outputs: {
    readonly count: number;
    /** Whether the two outputs of a stereo pair share one set of filters or are dialled one by one. */
    readonly stereo: 'legs-share' | 'legs-separate';
    /**
     * Where legs share, which outputs are pairs: `odd-even` (1/2, 3/4, ...) unless the target says otherwise, `any`
     * two, or a list as in `1/2`, left first.
     */
    readonly pairs?: string | readonly string[];
  };
  readonly quantisers: Readonly<Record<string, QuantiserSpec>>;
  readonly slots: readonly Slot[];
  /** Every way the desk may plausibly build its filters. */
  readonly realisations: readonly Realisation[];
  readonly display: Display;
  readonly evidence: Evidence;
  readonly osc?: Osc;
}

/**
 * The template of the address where something is asked for: its own one, or the one for everything, with the address
 * it is written at, or that one's template, in its place. Null where the target has neither.
 */
export const askingTemplate = (
  { address, addresses }: Pick<AskByAddress, 'address' | 'addresses'>,
  name: OscAddressed,
  written: string,
): string | null => addresses?.[name] ?? address?.replaceAll('{address}', () => written) ?? null;
