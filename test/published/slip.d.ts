/** The part of slip 1.0.2 that is used here; it brings no types of its own. */
declare module 'slip' {
  const slip: {
    encode(bytes: Uint8Array): Uint8Array;
    readonly Decoder: new (options: {
      readonly onMessage?: (packet: Uint8Array) => void;
      readonly onError?: (packet: Uint8Array, message: string) => void;
      readonly maxMessageSize?: number;
    }) => { decode(chunk: Uint8Array): void };
  };
  export default slip;
}
