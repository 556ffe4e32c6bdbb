import type { Writer } from "~/data/document-log";
import type { Connection } from "./connection";

/** Who writes, and on which device. */
export type Hand = { memberId: string; deviceId: string };

export function handOf({ access: { memberId, deviceId } }: Connection): Hand | undefined {
  return memberId === undefined ? undefined : { memberId, deviceId };
}

/** Whose the client ids of a document are: nobody may write on in another's name. */
export class Hands {
  private readonly handByClient = new Map<number, Hand>();

  constructor(writers: readonly Writer[]) {
    this.learn(writers);
  }

  learn(writers: readonly Writer[]): void {
    for (const { clientId, ...hand } of writers) this.handByClient.set(clientId, hand);
  }

  /** @returns undefined where it is nobody's, as far as is known here */
  isOf(clientId: number, { memberId, deviceId }: Hand): boolean | undefined {
    const known = this.handByClient.get(clientId);
    return known && known.memberId === memberId && known.deviceId === deviceId;
  }

  /** Gives those that are nobody's to this hand. @returns them */
  claim(clientIds: Iterable<number>, hand: Hand): Set<number> {
    const fresh = new Set([...clientIds].filter((clientId) => !this.handByClient.has(clientId)));
    for (const clientId of fresh) this.handByClient.set(clientId, hand);
    return fresh;
  }
}
