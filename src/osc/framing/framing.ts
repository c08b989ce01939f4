import type { OscTransport } from '../../model/target.js';

/** What came out of a piece of a stream. */
export interface StreamSplit {
  /** Whole packets, in order: copies, which outlive the piece they came in. Whether they are OSC is not looked at. */
  readonly packets: readonly Uint8Array[];
  /** Sentences about what was dropped. However much it was, they are few. */
  readonly faults: readonly string[];
  /** Whether the stream cannot be followed any more: it has to be closed. It stays so. */
  readonly lost: boolean;
}

/** Takes the packets out of one stream, however it is cut into pieces. It never holds more than one packet. */
export interface StreamSplitter {
  push(chunk: Uint8Array): StreamSplit;
}

/** A way to tell packets apart on a stream, which by itself knows only bytes. */
export interface Framing {
  readonly transport: Exclude<OscTransport, 'udp'>;
  /** The bytes one packet takes on the stream. */
  frame(packet: Uint8Array): Uint8Array;
  splitter(): StreamSplitter;
}
