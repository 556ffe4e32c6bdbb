import type { InstantMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { FloorRoom } from "./floor-room";
import type { DocumentNews, PresenceNews, Whose } from "./neighbours";
import type { NotesRoom } from "./notes-room";
import type { LedgerNews, RightsWatch } from "./rights-watch";
import { nameOf, type Rooms } from "./rooms";
import type { Sockets } from "./sockets";

export type HouseParts = {
  rooms: Rooms<FloorRoom | NotesRoom>;
  sockets: Sockets;
  rights: RightsWatch;
  now: () => InstantMs;
  /** A floor lies behind this number of its log. */
  behind: (floor: FloorRoom, seq: number) => void;
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
    if (this.parts.sockets.shopIds().has(news.shopId)) this.parts.rights.take(news);
  }

  hearDocument({ documentId, epoch, seq }: DocumentNews): void {
    const { rooms, behind } = this.parts;
    for (const room of rooms.all()) {
      const { head } = room;
      if (head.documentId !== documentId) continue;
      const isFloor = room instanceof FloorRoom;
      // the name of a floor has its epoch in it; notes are found again under the same name
      if (epoch > head.epoch) rooms.forget(room.address, room, isFloor ? closeCode.otherEpoch : closeCode.databaseAway);
      else if (epoch < head.epoch || seq <= head.seq) continue;
      else if (isFloor) behind(room, seq);
      else room.catchUp();
    }
  }

  hearSession(whose: Whose): void {
    void this.parts.sockets.doubtThoseOf(whose);
  }

  hearPresence(node: string, { room: name, news }: PresenceNews): void {
    for (const room of this.parts.rooms.all()) {
      if (nameOf(room.address) === name) room.presence.hearAfar(node, news, this.parts.now());
    }
  }

  presences(name?: string): PresenceNews[] {
    return this.parts.rooms
      .all()
      .filter((room) => name === undefined || nameOf(room.address) === name)
      .map((room) => ({ room: nameOf(room.address), news: room.presence.here() }));
  }

  forgetSilent(): void {
    for (const { presence } of this.parts.rooms.all()) presence.forgetSilent(this.parts.now());
  }
}
