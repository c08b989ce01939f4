import type { Framing } from '../../src/osc/framing/framing.js';
import { toHex } from './bytes.js';

/** A stream cut into pieces of these sizes, over and over. */
export const inPieces = (stream: Uint8Array, sizes: readonly number[]): readonly Uint8Array[] => {
  const pieces: Uint8Array[] = [];
  for (let at = 0; at < stream.length; ) {
    const size = sizes[pieces.length % sizes.length] ?? 1;
    pieces.push(stream.subarray(at, at + size));
    at += size;
  }
  return pieces;
};

/** All that a new splitter makes of some pieces, packets in hexadecimal. */
export const received = (framing: Framing, pieces: readonly Uint8Array[]) => {
  const splitter = framing.splitter();
  const splits = pieces.map((piece) => splitter.push(piece));
  return {
    packets: splits.flatMap((split) => split.packets.map(toHex)),
    faults: splits.flatMap((split) => split.faults),
    lost: splits.at(-1)?.lost ?? false,
  };
};
