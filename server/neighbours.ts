import { randomUUID } from "node:crypto";
import { type InstantMs, secondMs } from "~/core/units";
import { headsOf } from "~/data/heads";
import { HintLine, mostHintBytes } from "~/data/hint-line";
import type { House } from "./house";
import type { Present } from "./presence";
import type { LedgerNews } from "./rights-watch";

/** How far a shared document has come, in the log; by which intents, where it was by intents. */
export type DocumentNews = { documentId: string; epoch: number; seq: number; intentIds?: readonly string[] };
export type Whose = { sessionId: string } | { memberId: string };
export type PresenceNews = { room: string; news: Present[] };

type Hint =
  | ({ about: "ledger" } & LedgerNews)
  | ({ about: "document" } & DocumentNews)
  | { about: "session"; whose: Whose }
  | ({ about: "presence" } & PresenceNews)
  /** Who has just opened a room asks who else is there. */
  | { about: "asking"; room: string };

/** With every hint lost, another process knows of a change after this long. */
const lookEveryMs = 2 * secondMs;
const heartbeatMs = 5 * secondMs;
/** A look that is still out after this long will not come back. */
const lookLostMs = 10 * secondMs;
/** As many entries fit in one hint: names of things are short. */
const presencesPerHint = 20;
const intentsPerHint = 100;

/**
 * The other processes on the same database. They are told what has changed once it is stored, and this one is told by
 * them; but all of that may be lost. So every other second this one looks for itself how far the documents that are open
 * here have come, and the ledgers of the shops that read here.
 */
export class Neighbours {
  /** Which hints arrive; tests lose some of them. */
  isHeard = (): boolean => true;
  private line: HintLine | undefined;
  private timers: NodeJS.Timeout[] = [];
  private lookedAt: InstantMs | undefined;

  constructor(
    private readonly house: House,
    private readonly report: (error: unknown) => void,
    /** By which the others know who speaks. */
    readonly node: string = randomUUID(),
  ) {}

  /** Begins to listen; until then nobody is told anything either. */
  async open(): Promise<void> {
    this.line = new HintLine({
      heard: (payload) => this.hear(payload),
      opened: () => void this.look(),
      report: this.report,
    });
    this.timers = [
      setInterval(() => void this.look(), lookEveryMs),
      setInterval(() => this.sayPresences(this.house.presences()), heartbeatMs),
    ];
    await this.line.open();
  }

  async close(): Promise<void> {
    for (const timer of this.timers) clearInterval(timer);
    const { line } = this;
    this.line = undefined;
    await line?.close();
  }

  ledgerMoved(news: LedgerNews): void {
    const hint: Hint = { about: "ledger", ...news };
    // more members than fit are told by leaving a gap: whoever hears of it asks again about everybody
    this.say(news.memberIds.length > 100 ? { ...hint, fromSeq: news.seq, memberIds: [] } : hint);
  }

  documentMoved = ({ intentIds = [], ...news }: DocumentNews): void => {
    for (let from = 0; from === 0 || from < intentIds.length; from += intentsPerHint) {
      const some = intentIds.slice(from, from + intentsPerHint);
      this.say({ about: "document", ...news, ...(some.length > 0 ? { intentIds: some } : {}) });
    }
  };
  sessionsChanged = (whose: Whose): void => this.say({ about: "session", whose });
  roomOpened = (room: string): void => this.say({ about: "asking", room });

  sayPresences(rooms: readonly PresenceNews[]): void {
    for (const { room, news } of rooms) {
      for (let from = 0; from < news.length; from += presencesPerHint) {
        this.say({ about: "presence", room, news: news.slice(from, from + presencesPerHint) });
      }
    }
  }

  private say(hint: Hint): void {
    const payload = JSON.stringify({ node: this.node, ...hint });
    if (Buffer.byteLength(payload) <= mostHintBytes) this.line?.say(payload);
    else this.report(new Error(`a hint about a ${hint.about} is too long`));
  }

  private hear(payload: string): void {
    try {
      if (this.isHeard()) this.take(payload);
    } catch (error) {
      this.report(error);
    }
  }

  private take(payload: string): void {
    const { node, ...hint } = JSON.parse(payload) as Hint & { node: string };
    if (node === this.node) return;
    if (hint.about === "ledger") this.house.hearLedger(hint);
    else if (hint.about === "document") this.house.hearDocument(hint, "hint");
    else if (hint.about === "session") this.house.hearSession(hint.whose);
    else if (hint.about === "presence") this.house.hearPresence(node, hint);
    else this.sayPresences(this.house.presences(hint.room));
  }

  /** Looks for itself, because what was said may have been lost. */
  private async look(): Promise<void> {
    this.house.forgetSilent();
    const startedAt = performance.now();
    if (this.lookedAt !== undefined && startedAt - this.lookedAt < lookLostMs) return;
    this.lookedAt = startedAt;
    try {
      const [documentIds, shopIds] = [this.house.documentIds(), this.house.shopIds()];
      if (documentIds.length + shopIds.length === 0) return;
      const { documents, ledgers } = await headsOf(documentIds, shopIds);
      // rights first: what has changed since must not reach whom it is no longer for
      for (const { shopId, seq } of ledgers) this.house.hearLedger({ shopId, fromSeq: seq, seq, memberIds: [] });
      for (const one of documents) this.house.hearDocument(one, "look");
    } catch (error) {
      this.report(error);
    } finally {
      this.lookedAt = undefined;
    }
  }
}
