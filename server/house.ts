import type { InstantMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { EndedNotesRoom } from "./ended-notes-room";
import { FloorRoom } from "./floor-room";
import { figures } from "./metrics/figures";
import type { DocumentNews, PresenceNews, Whose } from "./neighbours";
import type { NotesRoom } from "./notes-room";
import type { LedgerNews, RightsWatch } from "./rights-watch";
import { nameOf, type Rooms } from "./rooms";
import type { Sockets } from "./sockets";
import type { Via } from "./witness";

export type ShopRoom = FloorRoom | NotesRoom | EndedNotesRoom;

export type HouseParts = {
  rooms: Rooms<ShopRoom>;
  sockets: Sockets;
  rights: RightsWatch;
  now: () => InstantMs;
  /** A floor lies behind this, or another process tells by which intents it has come as far as it is. */
  moved: (floor: FloorRoom, news: DocumentNews, via: Via) => void;
};

/** What this process has of that which the processes beside it speak about. */
export class House {
  constructor(private readonly parts: HouseParts) {}

  documentIds(): string[] {
    return this.parts.rooms.all().map(({ head }) => head.documentId);
  }

  shopIds(): string[] {
    return [...this.parts.sockets.shopIds()];
  }

  hearLedger(news: LedgerNews): void {
    if (news.memberIds.length > 0) this.parts.sockets.hearNews();
    if (this.parts.sockets.shopIds().has(news.shopId)) this.parts.rights.take(news);
  }

  hearDocument(news: DocumentNews, via: Via): void {
    const { documentId, epoch, seq } = news;
    const { rooms, moved } = this.parts;
    for (const room of rooms.all()) {
      const { head } = room;
      if (head.documentId !== documentId) continue;
      const isFloor = room instanceof FloorRoom;
      if (epoch > head.epoch) this.sendOn(room, epoch);
      else if (epoch < head.epoch) continue;
      else if (isFloor) moved(room, news, via);
      else if (seq > head.seq) {
        if (via === "look") figures.caughtByLooking("notes");
        room.catchUp();
      }
    }
  }

  /** Whoever is only asked for the rest of an old epoch comes back by the same name. */
  private sendOn(room: ShopRoom, epoch: number): void {
    const code = room instanceof EndedNotesRoom ? closeCode.databaseAway : closeCode.otherEpoch;
    this.parts.rooms.forget(room.address, room, code, room instanceof FloorRoom ? "" : `${epoch}`);
  }

  hearSession(whose: Whose): void {
    void this.parts.sockets.doubtThoseOf(whose);
  }

  hearPresence(node: string, { room: name, news }: PresenceNews): void {
    for (const floor of this.floors()) {
      if (nameOf(floor.address) === name) floor.presence.hearAfar(node, news, this.parts.now());
    }
  }

  presences(name?: string): PresenceNews[] {
    return this.floors()
      .filter((floor) => name === undefined || nameOf(floor.address) === name)
      .map((floor) => ({ room: nameOf(floor.address), news: floor.presence.here() }));
  }

  forgetSilent(): void {
    for (const { presence } of this.floors()) presence.forgetSilent(this.parts.now());
  }

  private floors(): FloorRoom[] {
    return this.parts.rooms.all().filter((room) => room instanceof FloorRoom);
  }
}
