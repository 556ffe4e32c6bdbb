/** People who work without a pause on a server that may go away under them: some send intents, some write notes. */
import { setTimeout as pause } from "node:timers/promises";
import * as Y from "yjs";
import { notesRoom } from "~/core/wire";
import { Phone } from "../../server/support/phone";
import { ShopServer } from "../../server/support/shop-server";
import { freshShop, type Hand, intentOf, joined, newId, pieceBody, type TestShop } from "../../support/database";

/** Where the server is now; undefined while there is none. */
export type Port = () => number | undefined;

const retryMs = 50;
/** Notes hold a hundred thousand characters: so slowly that a quarter of an hour of three hands fits in. */
const betweenWordsMs = 200;

export type Seat = { hand: Hand; cookie: string };
export type Place = { shop: TestShop; pieceId: string; seats: Seat[] };

/** A shop with an owner, a partner and a helper, all signed in, and one piece. */
export async function openPlace(): Promise<Place> {
  const server = await ShopServer.start();
  server.now = Date.now();
  const shop = await freshShop();
  const hands = [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")];
  const pieceId = newId();
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
  const seats: Seat[] = [];
  for (const hand of hands) seats.push({ hand, cookie: await server.signIn(hand) });
  await server.stop();
  return { shop, pieceId, seats };
}

/** Sends one intent after the other, each until it is answered. */
export class Sender {
  readonly saidYes: string[] = [];
  private isOver = false;
  private working: Promise<void> | undefined;

  constructor(
    private readonly seat: Seat,
    private readonly pieceId: string,
    private readonly port: Port,
  ) {}

  start(): void {
    this.working = this.work();
  }

  async stop(): Promise<void> {
    this.isOver = true;
    await this.working;
  }

  private async work(): Promise<void> {
    while (!this.isOver) {
      const taskId = newId();
      const body = { taskId, pieceId: this.pieceId, title: "Scrape", sort: "prep" };
      const intent = intentOf(this.seat.hand, "add-task", body, Date.now());
      while (!(await this.isAnswered(intent))) {
        if (this.isOver) return;
        await pause(retryMs);
      }
      this.saidYes.push(taskId);
    }
  }

  private async isAnswered(intent: object): Promise<boolean> {
    const port = this.port();
    if (port === undefined) return false;
    try {
      const response = await fetch(`http://127.0.0.1:${port}/api/trpc/door.send`, {
        method: "POST",
        headers: { "content-type": "application/json", cookie: this.seat.cookie },
        body: JSON.stringify({ intents: [intent] }),
        signal: AbortSignal.timeout(10_000),
      });
      const answer = (await response.json()) as { result?: { data: { rulings: { verdict: string }[] } } };
      return answer.result?.data.rulings[0]?.verdict === "accepted";
    } catch {
      return false; // the line broke, or nobody is there: nobody knows whether it was taken
    }
  }
}

/** Writes words into the notes, and knows which of them the server has said are kept. */
export class Writer {
  readonly doc = new Y.Doc();
  private readonly words: { text: string; end: number }[] = [];
  private keptClock = 0;
  private phone: Phone | undefined;
  private isOver = false;
  private working: Promise<void> | undefined;

  constructor(
    private readonly seat: Seat,
    private readonly room: string,
    private readonly port: Port,
    private readonly name: string,
  ) {}

  /** Words that came back from the server: it says nothing that it has not stored. */
  get kept(): string[] {
    return this.words.filter(({ end }) => end <= this.keptClock).map(({ text }) => text);
  }

  get text(): string {
    return this.doc.getText("journal").toString();
  }

  start(): void {
    this.isOver = false;
    this.working = this.work();
  }

  /** Stops writing; the line stays. */
  async stop(): Promise<void> {
    this.isOver = true;
    await this.working;
  }

  leave(): void {
    this.phone?.leave();
    this.phone = undefined;
  }

  /** For whoever wonders why it is not so. */
  get state(): string {
    const { closeCode: code, status } = this.phone ?? {};
    return `${this.name}: ${this.text.length} characters, ${this.kept.length} of ${this.words.length} kept, line ${code ?? status ?? "open"}`;
  }

  /** Connects where it is not connected. */
  connect(): void {
    const port = this.port();
    if (port === undefined || (this.phone && !this.phone.isOver)) return;
    this.phone?.leave();
    this.phone = new Phone(`ws://127.0.0.1:${port}/sync/${this.room}`, { cookie: this.seat.cookie }, this.doc);
    this.phone.socket.on("message", () => this.take());
  }

  private async work(): Promise<void> {
    while (!this.isOver) {
      this.connect();
      const text = `<${this.name}${this.words.length}>`;
      this.doc.getText("journal").insert(this.doc.getText("journal").length, text);
      this.words.push({ text, end: Y.getState(this.doc.store, this.doc.clientID) });
      await pause(betweenWordsMs);
    }
  }

  private take(): void {
    const frame = this.phone?.heard.pop();
    if (this.phone) this.phone.heard.length = 0;
    if (frame?.kind !== "update") return;
    for (const { id, length } of Y.decodeUpdate(frame.update).structs) {
      if (id.client === this.doc.clientID) this.keptClock = Math.max(this.keptClock, id.clock + length);
    }
  }
}

export const roomOf = ({ shop, pieceId }: Place): string => notesRoom(shop.shopId, pieceId);

/** Waits until something is so. @returns the milliseconds that it took @throws where it takes longer than allowed */
export async function until(
  isSo: () => boolean | Promise<boolean>,
  withinMs = 60_000,
  state = () => "",
): Promise<number> {
  const startedAt = performance.now();
  while (!(await isSo())) {
    if (performance.now() - startedAt > withinMs) throw new Error(`it was not so within ${withinMs} ms. ${state()}`);
    await pause(20);
  }
  return performance.now() - startedAt;
}
