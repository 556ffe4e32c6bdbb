import type { InstantMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import type { Connection } from "./connection";
import { type Frame, isEmptyUpdate, step1Frame } from "./messages";
import type { DocumentNews } from "./neighbours";
import type { EndedNotes } from "./notes-epochs";
import type { NotesAddress, NotesRoom } from "./notes-room";
import { readNotesUpdate } from "./notes-update";
import type { Room } from "./rooms";

export type EndedNotesSettings = {
  documentId: string;
  /** The epoch that counts now. */
  epoch: number;
  /** Every epoch that has ended since the one of the address, that one first. */
  ended: readonly EndedNotes[];
  /** Does something with the notes as they stand now. */
  withPresent: (work: (room: NotesRoom) => Promise<void>) => Promise<void>;
  /** They were founded once more, or the database is away: the room is to be dropped. */
  broken: (room: EndedNotesRoom, error: unknown) => void;
};

/**
 * Notes under an epoch that is over. A device that comes by the old name has a copy from then: it is asked for whatever it
 * wrote and never handed in, that is carried over into the notes as they stand, and when it has nothing more it is sent on.
 * It never hears anything of the old epoch, nor of the new one under this name: both together would be everything twice.
 */
export class EndedNotesRoom implements Room {
  readonly connections = new Set<Connection>();
  private pending = 0;
  private readonly idle = new Set<() => void>();

  constructor(
    readonly address: NotesAddress,
    private readonly settings: EndedNotesSettings,
  ) {}

  get head(): DocumentNews {
    const { documentId, epoch } = this.settings;
    return { documentId, epoch, seq: Number.POSITIVE_INFINITY };
  }

  get hasPending(): boolean {
    return this.pending > 0;
  }

  admit(connection: Connection): void {
    this.connections.add(connection);
    connection.deliverTo({
      frame: (frame) => this.hear(connection, frame),
      closed: () => void this.connections.delete(connection),
    });
    if (connection.access.mode === "write") this.ask(connection);
    else this.sendOn(connection);
  }

  beat(_now: InstantMs): void {}
  catchUp(): void {}

  async drain(): Promise<void> {
    if (this.hasPending) await new Promise<void>((resolve) => this.idle.add(resolve));
  }

  destroy(): void {}

  private ask(connection: Connection): void {
    const [first] = this.settings.ended;
    if (first) connection.send(step1Frame(first.stateVector));
  }

  private sendOn(connection: Connection): void {
    connection.close(closeCode.otherEpoch, `${this.settings.epoch}`);
  }

  private hear(connection: Connection, frame: Frame): void {
    if (frame.kind !== "step2" && frame.kind !== "update") return;
    if (!isEmptyUpdate(frame.update)) void this.take(connection, frame.update);
    else if (frame.kind === "step2") this.sendOn(connection);
  }

  private async take(connection: Connection, update: Uint8Array): Promise<void> {
    const carried = this.carriedOver(update);
    if (typeof carried === "number") return connection.close(carried);
    this.pending += 1;
    try {
      await this.settings.withPresent(async (room) => {
        const isNew = await room.takeCarried(connection, carried);
        if (isNew) this.ask(connection);
        else this.sendOn(connection);
      });
    } catch (error) {
      this.settings.broken(this, error);
    } finally {
      this.pending -= 1;
      if (!this.hasPending) for (const wake of this.idle) wake();
    }
  }

  /** Through every epoch that has ended since; or the code for what is no update of notes. */
  private carriedOver(update: Uint8Array): Uint8Array<ArrayBuffer> | number {
    let carried = new Uint8Array(update);
    for (const ended of this.settings.ended) {
      const read = readNotesUpdate(carried);
      if (typeof read === "string") return read === "too-large" ? closeCode.tooLarge : closeCode.malformed;
      carried = ended.carryOver(carried);
    }
    return carried;
  }
}
