import * as Y from "yjs";
import type { InstantMs } from "~/core/units";
import { limits } from "~/core/wire-limits";
import type { Connection } from "./connection";
import { step2Frame, updateFrame } from "./messages";

/** A document as its readers see it: what it has, and what somebody lacks who has this much. */
export type ReadDocument = {
  stateVector(): Uint8Array;
  /** @throws where the vector is broken */
  since(stateVector: Uint8Array): Uint8Array;
};

/**
 * Those who have had the whole document, and therefore understand what changes. A frame is made once for all of them. Who
 * does not read what it is sent hears nothing more until it has; then it gets everything since as one change.
 */
export class Readers {
  private readonly inStep = new Set<Connection>();
  /** With what they have. */
  private readonly behind = new Map<Connection, Uint8Array>();
  /** Answers to the same question are the same until something changes. */
  private readonly answers = new Map<string, Buffer>();
  private answeredAt: InstantMs = 0;

  constructor(
    private readonly document: () => ReadDocument,
    private readonly now: () => InstantMs,
  ) {}

  /** Tells a connection what it lacks, and from now on what changes. @returns false where its vector is broken */
  answer(connection: Connection, stateVector: Uint8Array): boolean {
    const frame = this.frameFor(stateVector);
    if (!frame) return false;
    connection.answer(frame);
    this.behind.delete(connection);
    this.inStep.add(connection);
    return true;
  }

  /** Tells everybody what has changed, as one. To be called once the document has it. */
  tell(updates: readonly Uint8Array[]): void {
    this.answers.clear();
    if (updates.length === 0) return;
    const frame = updateFrame(updates.length === 1 ? (updates[0] as Uint8Array) : Y.mergeUpdates([...updates]));
    let has: Uint8Array | undefined;
    for (const connection of this.inStep) {
      connection.send(frame);
      if (!connection.isBehind) continue;
      has ??= this.document().stateVector();
      this.inStep.delete(connection);
      this.behind.set(connection, has);
    }
  }

  /** Called every now and then: who has read what it had gets the rest. */
  beat(now: InstantMs): void {
    if (now - this.answeredAt >= limits.keptAnswerMs) this.answers.clear();
    for (const [connection, has] of this.behind) {
      if (!connection.hasCaughtUp) continue;
      this.behind.delete(connection);
      this.inStep.add(connection);
      connection.answer(updateFrame(this.document().since(has)));
    }
  }

  leave(connection: Connection): void {
    this.inStep.delete(connection);
    this.behind.delete(connection);
  }

  private frameFor(stateVector: Uint8Array): Buffer | undefined {
    if (stateVector.length > limits.stateVectorBytes) return undefined;
    const question = Buffer.from(stateVector).toString("base64");
    const known = this.answers.get(question);
    if (known) return known;
    const update = attempt(() => this.document().since(stateVector));
    if (!update) return undefined;
    const frame = step2Frame(update);
    const [oldest] = this.answers.keys();
    if (oldest !== undefined && this.answers.size >= limits.keptAnswers) this.answers.delete(oldest);
    this.answers.set(question, frame);
    this.answeredAt = this.now();
    return frame;
  }
}

/** Yjs throws on bytes that are not its own; whoever sent them is to be told, not the process. */
const attempt = <Value>(work: () => Value): Value | undefined => {
  try {
    return work();
  } catch {
    return undefined;
  }
};
