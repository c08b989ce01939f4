/** A show as a desk is set up for it. */
export interface StandinOutputs {
  /** What outputs are called; `Out 1` and so on where nothing is told. */
  readonly names?: ReadonlyMap<number, string>;
  /**
   * Which outputs are left and right of one mix; all others are mono. Where nothing is told, every pair the target
   * has; none where any two may be one.
   */
  readonly pairs?: readonly (readonly [left: number, right: number])[];
}

/** The outputs of a desk that is set up for some mixes: named as they are, and paired where they are stereo. */
export const outputsFor = (
  mixes: readonly { readonly name: string; readonly outputs: readonly number[] }[],
): StandinOutputs => ({
  names: new Map(mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name] as const))),
  pairs: mixes.flatMap(({ outputs: [left, right] }) =>
    left === undefined || right === undefined ? [] : [[left, right] as const],
  ),
});
