/** What the tests use of the documents, as their schemas describe them: JSON as any reader finds it. */

export type Numbers = Readonly<Record<string, number>>;

export interface FilterJson {
  readonly slot: string;
  readonly role: string;
  readonly type: string;
  readonly asked: Readonly<Record<string, number | string>> & { readonly frequencyHz: number };
  readonly set: Readonly<Record<string, number | string>> & { readonly frequencyHz: number };
  readonly steps: Readonly<
    Record<string, { index: number; of: number; display: string; fromBottom: number; fromTop: number }>
  >;
  readonly error: Numbers;
}

export interface RangeJson {
  readonly leastDb: number;
  readonly mostDb: number;
}

export interface FiguresJson {
  readonly pilotAttenuationDb: number;
  readonly keepLossDb: number;
  readonly riseDb: number;
  readonly guardBandDb: number;
  readonly pilotToProgrammeDb: RangeJson | null;
}

export interface GuardJson {
  readonly pilotHz: number;
  readonly windowHz: number;
  readonly keepLowHz: number;
  readonly keepHighHz: number;
  readonly preEmphasisMicroseconds: readonly number[];
  readonly lineUpDbfs: readonly number[];
  readonly byRealisation: readonly (FiguresJson & { readonly id: string })[];
  readonly limits: Numbers;
  readonly worst: FiguresJson;
  readonly verdict: 'met' | 'falls-short';
}

export interface MixJson {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly link: string | null;
  readonly treatment: string;
  readonly reason: string;
  readonly filters: readonly FilterJson[];
  readonly guard: GuardJson | null;
  readonly missing: readonly {
    readonly role: string;
    readonly type: string;
    readonly asked: FilterJson['asked'];
    readonly why: string;
  }[];
}

export interface RecipeJson {
  readonly rig: { readonly title: string };
  readonly target: { readonly id: string; readonly title: string };
  readonly mixes: readonly MixJson[];
  readonly problems: readonly { readonly code: string; readonly path: string; readonly message: string }[];
}

export type GridJson = Readonly<Record<string, unknown>> & { readonly kind: string };

export interface TargetJson {
  readonly id: string;
  readonly outputs: { readonly count: number; readonly stereo: string };
  readonly quantisers: Readonly<Record<string, GridJson>>;
  readonly slots: readonly {
    readonly id: string;
    readonly types: Readonly<Record<string, Readonly<Record<string, string | number>>>>;
  }[];
  readonly realisations: readonly {
    readonly id: string;
    readonly design: string;
    readonly qMeaning: string;
    readonly bandwidthMeaning?: string;
    readonly sampleRateHz: number | null;
  }[];
  readonly osc?: {
    readonly addresses: Readonly<Record<string, string>>;
    readonly encodings: Readonly<
      Record<string, { readonly as: string; readonly type: string; readonly order?: readonly string[] }>
    >;
  };
}
