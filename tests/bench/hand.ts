import * as Y from "yjs";
import { step2Frame, updateFrame } from "../../server/messages";

const brackets = "[]";
const anything = "the drawer runs are worn on the left; wax them before the next coat goes on, ";

/**
 * Somebody who writes words between two brackets of their own: a device knows what stands beside its words, so that
 * nobody has to look for their place. The first update is the brackets; each one after it is as many letters.
 */
export class Hand {
  private readonly document = new Y.Doc();
  private readonly text = this.document.getText("journal");
  private last: Uint8Array = new Uint8Array();
  private made = 0;
  /** When each update was sent, by its number. */
  readonly sentAt: number[] = [];

  constructor(private readonly lettersEach: number) {
    this.document.on("update", (update: Uint8Array) => {
      this.last = update;
    });
  }

  get clientId(): number {
    return this.document.clientID;
  }

  /** How many updates there are so far. */
  get count(): number {
    return this.made;
  }

  /** The frame with the next update. */
  next(): Buffer {
    const letters = anything.repeat(Math.ceil(this.lettersEach / anything.length)).slice(0, this.lettersEach);
    if (this.made === 0) this.text.insert(0, brackets);
    else this.text.insert(this.text.length - 1, letters);
    this.made += 1;
    this.sentAt.push(performance.now());
    return updateFrame(this.last);
  }

  /** The frame with all of it, as a device answers that was apart. */
  whole = (): Buffer => step2Frame(Y.encodeStateAsUpdate(this.document));

  /** How many updates lie before this clock. */
  updatesBefore = (clock: number): number =>
    clock === 0 ? 0 : 1 + Math.floor((clock - brackets.length) / this.lettersEach);
}
