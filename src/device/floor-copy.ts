/** The floor of the shop on this device, read only: whatever is done travels as an intent. */
import type * as Y from "yjs";
import { floorRoom, type Presence } from "~/core/wire";
import { copiesOnDevice, dropCopy } from "./device-database";
import { FloorFacts } from "./floor-facts";
import { type LinkParts, RoomLink } from "./room-link";

export type FloorAddress = { shopId: string; epoch: number };

/** The epoch is in the name: a copy of a floor that was founded anew is another floor. */
export const floorCopyName = ({ shopId, epoch }: FloorAddress): string => `tackfree-floor:${shopId}:${epoch}`;

/** The epoch of the copy that this device holds, for opening it without a server. */
export async function epochOnDevice(shopId: string): Promise<number | undefined> {
  const epochs = (await copiesOnDevice()).flatMap((copy) =>
    copy.kind === "floor" && copy.shopId === shopId ? [copy.epoch ?? 0] : [],
  );
  return epochs.length === 0 ? undefined : Math.max(...epochs);
}

export class FloorCopy {
  readonly link: RoomLink;
  readonly facts: FloorFacts;
  private readonly changeListeners = new Set<() => void>();
  private readonly presenceListeners = new Set<() => void>();
  private present: readonly Presence[] = [];

  constructor(
    readonly address: FloorAddress,
    parts: LinkParts,
  ) {
    const { shopId, epoch } = address;
    this.link = new RoomLink(
      floorRoom(shopId, epoch),
      { name: floorCopyName(address), kind: "floor", shopId, epoch },
      parts,
    );
    this.facts = new FloorFacts(this.link.document);
    this.link.document.on("afterTransaction", (transaction: Y.Transaction) => {
      if (transaction.changed.size > 0) for (const listener of this.changeListeners) listener();
    });
    this.link.provider.awareness.on("change", () => this.readPresence());
  }

  /** Opens this epoch's copy and drops those of others. */
  async open(hasDatabase: boolean): Promise<void> {
    if (hasDatabase) await this.dropOtherEpochs();
    await this.link.open(hasDatabase);
  }

  /** Called once per change of the document, after all of it is in. */
  onChange(listener: () => void): () => void {
    this.changeListeners.add(listener);
    return () => this.changeListeners.delete(listener);
  }

  onPresence(listener: () => void): () => void {
    this.presenceListeners.add(listener);
    return () => this.presenceListeners.delete(listener);
  }

  /** Who of the others is where; the server says who. */
  get presence(): readonly Presence[] {
    return this.present;
  }

  /** Says to the others where this member is looking. */
  lookAt(lookingAt: string | undefined): void {
    this.link.provider.awareness.setLocalState(lookingAt === undefined ? {} : { lookingAt });
  }

  async end(): Promise<void> {
    this.changeListeners.clear();
    this.presenceListeners.clear();
    await this.link.end();
  }

  private readPresence(): void {
    const { awareness } = this.link.provider;
    const others = [...awareness.getStates()].filter(([client]) => client !== awareness.clientID);
    this.present = others.map(([, state]) => state).filter((state): state is Presence => "memberId" in state);
    for (const listener of this.presenceListeners) listener();
  }

  private async dropOtherEpochs(): Promise<void> {
    const name = floorCopyName(this.address);
    const others = (await copiesOnDevice()).filter(
      (copy) => copy.kind === "floor" && copy.shopId === this.address.shopId && copy.name !== name,
    );
    await Promise.all(others.map((copy) => dropCopy(copy.name)));
  }
}
