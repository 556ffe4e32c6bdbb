/**
 * Three devices of one shop over lines on which messages get lost, come twice, overtake each other, and break; then the
 * lines are mended, and nothing may be lost, or be there twice, or differ. A seed decides all of it.
 */
import { setTimeout as pause } from "node:timers/promises";
import WebSocket from "ws";
import * as Y from "yjs";
import { notesRoom } from "~/core/wire";
import { database } from "~/data/db";
import { readFrame, step1Frame, step2Frame, updateFrame } from "../../../server/messages";
import { chanceOf } from "../../support/chance";
import { type Hand, intentOf, newId, pieceBody, type TestShop } from "../../support/database";
import { Phone } from "./phone";
import type { ShopServer } from "./shop-server";

export type Seat = { hand: Hand; cookie: string };
export type Harm = { lost: string[]; diverged: string[]; pending: string[] };

const stepsOfRun = 24;
/** Of every ten messages one is lost, one comes twice, one is overtaken by the next. */
const [lostBelow, twiceBelow, lateBelow] = [0.1, 0.2, 0.3];
const patienceMs = 20_000;
const askEveryMs = 5;

/** Passes messages on in its unsteady way. */
class Unsteady<Message> {
  private held: Message | undefined;

  constructor(
    private readonly chance: () => number,
    private readonly pass: (message: Message) => void,
  ) {}

  give(message: Message): void {
    const fate = this.chance();
    if (fate < lostBelow) return;
    if (fate >= twiceBelow && fate < lateBelow && this.held === undefined) {
      this.held = message;
      return;
    }
    this.pass(message);
    if (fate < twiceBelow) this.pass(message);
    const { held } = this;
    this.held = undefined;
    if (held !== undefined) this.pass(held);
  }
}

/** A device with notes open over a line that is not to be relied upon. */
class UnsteadyDevice {
  private socket: WebSocket | undefined;
  private stopTelling = (): void => undefined;

  constructor(
    readonly doc: Y.Doc,
    private readonly url: string,
    private readonly cookie: string,
    private readonly chance: () => number,
  ) {}

  connect(): void {
    this.hangUp();
    const socket = new WebSocket(this.url, { headers: { cookie: this.cookie } });
    const out = new Unsteady<Buffer>(this.chance, (frame) => {
      if (socket.readyState === WebSocket.OPEN) socket.send(frame);
    });
    const into = new Unsteady<Buffer>(this.chance, (data) => this.hear(data, out));
    socket.on("error", () => undefined);
    socket.on("open", () => out.give(step1Frame(Y.encodeStateVector(this.doc))));
    socket.on("message", (data: Buffer) => into.give(data));
    const tell = (update: Uint8Array, origin: unknown) => {
      if (origin !== this) out.give(updateFrame(update));
    };
    this.doc.on("update", tell);
    this.stopTelling = () => this.doc.off("update", tell);
    this.socket = socket;
  }

  hangUp(): void {
    this.stopTelling();
    this.socket?.terminate();
    this.socket = undefined;
  }

  private hear(data: Buffer, out: Unsteady<Buffer>): void {
    const frame = readFrame(data);
    if (frame?.kind === "step1") out.give(step2Frame(Y.encodeStateAsUpdate(this.doc, frame.stateVector)));
    if (frame?.kind === "step2" || frame?.kind === "update") Y.applyUpdate(this.doc, frame.update, this);
  }
}

/** A device's queue of intents, whose batches and answers are as unsteady. */
class UnsteadyQueue {
  readonly made: { intentId: string; taskId: string }[] = [];
  private readonly waiting: { intentId: string }[] = [];

  constructor(
    private readonly server: ShopServer,
    private readonly hand: Hand,
    private readonly chance: () => number,
  ) {}

  add(pieceId: string): void {
    const taskId = newId();
    const intent = intentOf(this.hand, "add-task", { taskId, pieceId, title: "Scrape", sort: "prep" }, this.server.now);
    this.waiting.push(intent);
    this.made.push({ intentId: intent.intentId, taskId });
  }

  /** What waits, maybe twice at once, maybe from the middle, maybe without hearing the answer. */
  async sendSome(): Promise<void> {
    const from = this.chance() < lateBelow ? Math.floor(this.chance() * this.waiting.length) : 0;
    const batch = this.waiting.slice(from);
    const times = this.chance() < twiceBelow ? 2 : 1;
    const outcomes = await Promise.all(Array.from({ length: times }, () => this.send(batch)));
    if (this.chance() < lostBelow) return;
    this.settle(outcomes.flat());
  }

  async sendRest(): Promise<void> {
    while (this.waiting.length > 0) this.settle(await this.send(this.waiting));
  }

  private async send(envelopes: readonly unknown[]): Promise<string[]> {
    const { shopId, memberId, deviceId } = this.hand;
    const session = { memberId, deviceId, isSharedTablet: false };
    const outcome = await this.server.hub.commit({ shopId, envelopes: [...envelopes], session, now: this.server.now });
    if (outcome.failed[0]) throw outcome.failed[0].error;
    return outcome.rulings.map(({ intentId }) => intentId);
  }

  private settle(ruled: readonly string[]): void {
    const left = this.waiting.filter(({ intentId }) => !ruled.includes(intentId));
    this.waiting.splice(0, this.waiting.length, ...left);
  }
}

/** @returns what went wrong, with nothing in it where all is well */
export async function unsteadyRun(
  server: ShopServer,
  shop: TestShop,
  seats: readonly Seat[],
  seed: number,
): Promise<Harm> {
  const chance = chanceOf(seed);
  const pick = <One>(from: readonly One[]): One => from[Math.floor(chance() * from.length)] as One;
  const piece = pieceBody(shop);
  await server.accepted(shop.owner, ["add-piece", piece]);
  const url = `ws://${server.host}/sync/${notesRoom(shop.shopId, piece.pieceId)}`;
  const devices = seats.map(({ cookie }) => new UnsteadyDevice(new Y.Doc(), url, cookie, chance));
  const queues = seats.map(({ hand }) => new UnsteadyQueue(server, hand, chance));
  for (const device of devices) device.connect();
  const words: string[] = [];
  for (let step = 0; step < stepsOfRun; step += 1) {
    server.now += 1_000;
    const text = pick(devices).doc.getText("journal");
    const act = chance();
    if (act < 0.5) {
      words.push(`<${seed}.${step}>`);
      text.insert(Math.floor(chance() * (text.length + 1)), `${words.at(-1)}·`);
    } else if (act < 0.6) {
      const dot = text.toString().indexOf("·");
      if (dot >= 0) text.delete(dot, 1);
    } else if (act < 0.75) pick(devices).connect();
    else if (act < 0.9) pick(queues).add(piece.pieceId);
    else await pick(queues).sendSome();
    await pause(chance() * 5);
  }
  for (const device of devices) device.hangUp();
  await Promise.all(queues.map((queue) => queue.sendRest()));
  const harm = await mended(
    devices.map(({ doc }) => doc),
    seats,
    url,
    lettersOf(words),
  );
  const made = queues.flatMap((queue) => queue.made);
  const { shopId } = shop;
  for (const { intentId, taskId } of made) {
    const rulings = await database().ruling.count({ where: { shopId, intentId } });
    const tasks = await database().task.count({ where: { shopId, id: taskId } });
    if (rulings !== 1 || tasks !== 1) harm.lost.push(`intent ${intentId}: ${rulings} rulings, ${tasks} tasks`);
  }
  return harm;
}

/** Words may have others' words in their middle; their letters may not be fewer, nor more. */
const lettersOf = (words: readonly string[]): string => [...words.join("")].sort().join("");

async function mended(docs: readonly Y.Doc[], seats: readonly Seat[], url: string, letters: string): Promise<Harm> {
  const phones = docs.map((doc, index) => new Phone(url, { cookie: seats[index]?.cookie ?? "" }, doc));
  const late = new Phone(url, { cookie: seats[0]?.cookie ?? "" });
  const all = [...phones, late];
  const textOf = ({ doc }: Phone) => doc.getText("journal").toString();
  const isSame = () => new Set(all.map(textOf)).size === 1;
  const hasAll = (text: string) => [...text.replaceAll("·", "")].sort().join("") === letters;
  const givesUpAt = performance.now() + patienceMs;
  const isSettled = () => isSame() && hasAll(textOf(late));
  while (!isSettled() && !all.some(({ isOver }) => isOver) && performance.now() < givesUpAt) await pause(askEveryMs);
  const harm: Harm = { lost: [], diverged: [], pending: [] };
  for (const phone of all) {
    if (!hasAll(textOf(phone))) harm.lost.push(`${textOf(phone)} has not all of ${letters}`);
    if (phone.doc.store.pendingStructs || phone.doc.store.pendingDs) harm.pending.push(textOf(phone));
    if (phone.isOver) harm.diverged.push(`hung up on with ${phone.closeCode ?? phone.status}`);
    phone.leave();
  }
  if (!isSame()) harm.diverged.push(...all.map(textOf));
  return harm;
}
