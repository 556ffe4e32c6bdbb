/** The notes that are open on this device, and those whose words wait for the server though no screen shows them. */
import { secondMs } from "~/core/units";
import { copiesOnDevice } from "./device-database";
import { NotesCopy, notesEpochOnDevice } from "./notes-copy";
import type { LinkParts } from "./room-link";

/** After this long without an answer the words wait for the next time. */
const patienceMs = 30 * secondMs;

export class OpenNotes {
  private readonly open = new Set<NotesCopy>();
  private isDelivering = false;
  private isEnded = false;

  constructor(
    private readonly shopId: string,
    private readonly parts: LinkParts,
    private readonly hasDatabase: () => boolean,
  ) {}

  /** Whoever opens notes ends them. */
  async of(pieceId: string): Promise<NotesCopy> {
    const hasDatabase = this.hasDatabase();
    const epoch = hasDatabase ? await notesEpochOnDevice(this.shopId, pieceId).catch(() => undefined) : undefined;
    const notes = new NotesCopy(this.shopId, pieceId, this.parts, epoch);
    this.open.add(notes);
    notes.onEnd(() => this.open.delete(notes));
    // nothing is to be written before the copy here has been read: it is what keeps it
    await notes.open(hasDatabase);
    return notes;
  }

  reconnect(): void {
    for (const notes of this.open) notes.reconnect();
  }

  /** Takes words to the server that were written without signal and left behind. */
  async deliver(): Promise<void> {
    if (this.isDelivering || !this.hasDatabase()) return;
    this.isDelivering = true;
    try {
      const unsent = (await copiesOnDevice()).filter((copy) => copy.shopId === this.shopId && copy.hasUnsent);
      for (const pieceId of new Set(unsent.map((copy) => copy.pieceId))) {
        const isOpen = [...this.open].some((notes) => notes.pieceId === pieceId);
        if (pieceId !== undefined && !isOpen && !this.isEnded) await this.deliverOne(pieceId);
      }
    } finally {
      this.isDelivering = false;
    }
  }

  async end(): Promise<void> {
    this.isEnded = true;
    await Promise.all([...this.open].map((notes) => notes.end()));
  }

  private async deliverOne(pieceId: string): Promise<void> {
    const notes = await this.of(pieceId);
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, patienceMs);
      const look = () => {
        const isOver = notes.isSent || notes.shown.connection.state === "closed";
        if (!isOver && !this.isEnded) return;
        clearTimeout(timer);
        resolve();
      };
      notes.subscribe(look);
      look();
    });
    await notes.end();
  }
}
