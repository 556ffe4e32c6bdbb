/**
 * How the floor document is laid out. One map per floor table, by row id, with the row as plain JSON; and three more.
 * Only the server writes it; a device reads.
 */
import type { InstantMs } from "~/core/units";

export const floorMaps = {
  /** `airDayKey` → `AirDay`. */
  air: "air",
  /** Coat id → `Checkpoint`. */
  checkpoint: "checkpoint",
  /** The fields of `FloorMeta`. */
  meta: "meta",
} as const;

export type FloorMeta = {
  shopId: string;
  epoch: number;
  /** The ledger number up to which the document tells. */
  seq: number;
  zone: string;
  /** From when on the air is carried; films laid before have a checkpoint. */
  airFromAt: InstantMs;
};
