/** Devices that do not read what they are sent, and shops that send more than they should. */
import { beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { limits } from "~/core/wire-limits";
import { type Frame, readFrame, step1Frame } from "../../server/messages";
import { ShopPace } from "../../server/rate";
import { Readers } from "../../server/readers";
import { connectionOn, fern, Line } from "./support/socket";

const clock = { now: 0 };
let document: Y.Doc;
let readers: Readers;
beforeEach(() => {
  clock.now = 0;
  document = new Y.Doc();
  const shown = {
    stateVector: () => Y.encodeStateVector(document),
    since: (vector: Uint8Array) => Y.encodeStateAsUpdate(document, vector),
  };
  readers = new Readers(
    () => shown,
    () => clock.now,
  );
});

const nothing = Y.encodeStateVector(new Y.Doc());

/** A reader with a copy of its own, made of what it has been sent. */
function reader() {
  const line = new Line();
  const connection = connectionOn(line, () => clock.now);
  const copy = () => {
    const doc = new Y.Doc();
    for (const bytes of line.sent) {
      const frame = readFrame(bytes) as Extract<Frame, { update: Uint8Array }>;
      if (frame.kind === "update" || (frame.kind as string) === "step2") Y.applyUpdate(doc, frame.update);
    }
    return doc.getText("journal").toString();
  };
  readers.answer(connection, nothing);
  return { line, connection, copy };
}

function write(words: string): void {
  const before = Y.encodeStateVector(document);
  document.getText("journal").insert(0, words);
  readers.tell([Y.encodeStateAsUpdate(document, before)]);
}

describe("a device that does not read", () => {
  test("hears nothing more once it is a megabyte behind, and everything since as one when it has read", () => {
    const [slow, quick] = [reader(), reader()];
    slow.line.bufferedAmount = limits.behindBytes + 1;
    for (const words of ["one ", "two ", "three "]) write(words);
    document.getText("journal").delete(0, 6);
    const told = slow.line.sent.length;
    readers.beat(1);
    expect(slow.line.sent).toHaveLength(told);
    expect(told).toBeLessThan(quick.line.sent.length);
    slow.line.bufferedAmount = 0;
    readers.beat(2);
    expect(slow.line.sent).toHaveLength(told + 1);
    expect(slow.copy()).toBe("two one ");
    write("four ");
    expect(slow.copy()).toBe("four two one ");
  });

  test("is cut off once it is four megabytes behind", () => {
    const slow = reader();
    slow.line.bufferedAmount = limits.backlogBytes;
    write("more");
    expect(slow.line.isTerminated).toBe(true);
  });

  test("is cut off after ten seconds of being behind, and not while it reads again in between", () => {
    const [slow, wavering] = [reader(), reader()];
    clock.now = limits.behindMs;
    for (const { line } of [slow, wavering]) line.bufferedAmount = limits.behindBytes + 1;
    for (const { connection } of [slow, wavering]) connection.beat(clock.now);
    clock.now += limits.behindMs - 1;
    wavering.line.bufferedAmount = 0;
    for (const { connection } of [slow, wavering]) connection.beat(clock.now);
    wavering.line.bufferedAmount = limits.behindBytes + 1;
    clock.now += 1;
    for (const { connection } of [slow, wavering]) connection.beat(clock.now);
    expect([slow, wavering].map(({ line }) => line.isTerminated)).toEqual([true, false]);
  });

  test("that asked for a large document over a poor line gets the time that this takes", () => {
    document.getText("journal").insert(0, "x".repeat(3 << 20));
    const phone = reader();
    phone.line.bufferedAmount = 3 << 20;
    for (let second = 0; second <= 191; second += 1) phone.connection.beat(second * 1000);
    expect(phone.line.isTerminated).toBe(false);
    phone.connection.beat(193_000);
    expect(phone.line.isTerminated).toBe(true);
  });

  test("what is held back while a right is in doubt has the same bound", () => {
    const phone = reader();
    phone.connection.hold();
    for (let count = 0; count < 5; count += 1) phone.connection.send(Buffer.alloc(1 << 20));
    expect(phone.line.isTerminated).toBe(true);
  });
});

describe("a frame for all", () => {
  test("is made once, and an answer to the same question as well, until something changes", () => {
    const [one, two] = [reader(), reader()];
    expect(one.line.sent[0]).toBe(two.line.sent[0]);
    write("loose");
    expect(one.line.sent[1]).toBe(two.line.sent[1]);
    const three = reader();
    expect(three.line.sent[0]).not.toBe(one.line.sent[0]);
    expect(three.copy()).toBe("loose");
  });

  test("holds all updates of one commit", () => {
    const phone = reader();
    const updates = ["a", "b", "c"].map((words) => {
      const before = Y.encodeStateVector(document);
      document.getText("journal").insert(0, words);
      return Y.encodeStateAsUpdate(document, before);
    });
    readers.tell(updates);
    expect(phone.line.sent).toHaveLength(2);
    expect(phone.copy()).toBe("cba");
  });
});

describe("a shop that sends too much", () => {
  test("is read more slowly, nobody is hung up on, and what was sent is taken", () => {
    const shop = new ShopPace(0);
    const lines = Array.from({ length: 20 }, () => new Line());
    const heard: Frame[] = [];
    const connections = lines.map((line) => {
      const connection = connectionOn(line, () => clock.now, fern, shop);
      connection.deliverTo({ frame: (frame) => heard.push(frame), closed: () => undefined });
      return connection;
    });
    const empty = new Uint8Array([0, 2, 2, 0, 0]);
    for (const line of lines) for (let count = 0; count < 150; count += 1) line.say(empty);
    expect(heard).toHaveLength(3000);
    expect(lines.some(({ isPaused }) => isPaused)).toBe(true);
    expect(lines.every(({ closeCode }) => closeCode === undefined)).toBe(true);
    clock.now = 1000;
    for (const connection of connections) connection.beat(clock.now);
    expect(lines.some(({ isPaused }) => isPaused)).toBe(true);
    clock.now = 2001;
    for (const connection of connections) connection.beat(clock.now);
    expect(lines.some(({ isPaused }) => isPaused)).toBe(false);
  });
});

test("a fault in a room is reported and ends the line that met it, and nothing is thrown", () => {
  const [line, other] = [new Line(), new Line()];
  const fault = new Error("a room that is broken");
  for (const one of [line, other]) {
    connectionOn(one, () => 0).deliverTo({
      frame: () => {
        if (one === line) throw fault;
      },
      closed: () => {
        throw fault;
      },
    });
  }
  expect(() => line.say(step1Frame(nothing))).not.toThrow();
  expect(line.closeCode).toBe(1011);
  expect(line.faults).toEqual([fault, fault]);
  other.say(step1Frame(nothing));
  expect(other.closeCode).toBeUndefined();
});
