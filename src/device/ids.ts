import type { InstantMs } from "~/core/units";

type IdSources = {
  now: () => InstantMs;
  randomBytes?: (bytes: Uint8Array<ArrayBuffer>) => void;
};

const counterEnd = 0x1000;

/**
 * Makes ids on this device: UUIDs of version 7 (RFC 9562, 5.7) from the corrected clock, so that ids of different
 * devices sort by when things were made. The 12 bits after the time count within a millisecond (RFC 9562, 6.2, method 1)
 * and start low, so that things made in one go keep their order.
 */
export function idMaker({ now, randomBytes = (bytes) => crypto.getRandomValues(bytes) }: IdSources): () => string {
  let [lastAt, counter] = [0, 0];
  return () => {
    const bytes = new Uint8Array(16);
    randomBytes(bytes);
    const at = Math.floor(now());
    if (at > lastAt) {
      lastAt = at;
      counter = (((bytes[6] as number) & 0x03) << 8) | (bytes[7] as number);
    } else {
      counter += 1;
      if (counter === counterEnd) {
        lastAt += 1;
        counter = 0;
      }
    }
    for (let index = 0; index < 6; index += 1) bytes[index] = Math.floor(lastAt / 256 ** (5 - index)) % 256;
    bytes[6] = 0x70 | (counter >> 8);
    bytes[7] = counter & 0xff;
    bytes[8] = 0x80 | ((bytes[8] as number) & 0x3f);
    const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  };
}
