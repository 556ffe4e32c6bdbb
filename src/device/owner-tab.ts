/**
 * Of several open tabs of one member one delivers: the owner. When it goes, the next in line takes over; when it hangs,
 * because the browser froze it, a tab that has something to send and hears nothing takes over by itself.
 */
import { secondMs } from "~/core/units";

/** An owner that is alive answers at once, also in the background. */
const patienceMs = 3 * secondMs;

type Said = "is-anybody-there" | "here";

export type TabParts = {
  /** Web Locks; without them, as on an insecure address, every tab delivers, and the server counts what comes twice once. */
  locks?: Pick<LockManager, "request">;
  channel?: Pick<BroadcastChannel, "postMessage" | "close"> & { onmessage: BroadcastChannel["onmessage"] };
  /** Returns how to call it off. */
  later: (run: () => void, afterMs: number) => () => void;
  /** Calls just before the browser freezes this tab; returns how to stop. */
  onFreeze: (run: () => void) => () => void;
};

export class OwnerTab {
  private letGo: (() => void) | undefined;
  private giveUpWaiting = new AbortController();
  private callOff: (() => void) | undefined;
  private isEnded = false;
  private readonly stopListening: () => void;
  private readonly listeners = new Set<() => void>();

  constructor(
    private readonly name: string,
    private readonly parts: TabParts,
  ) {
    const { channel, onFreeze } = parts;
    if (channel) channel.onmessage = ({ data }) => this.hear(data as Said);
    // whoever waits is next, and this one stands at the end of the line again
    this.stopListening = onFreeze(() => this.letGo?.());
    void this.stand();
  }

  get isOwner(): boolean {
    return this.letGo !== undefined || !this.parts.locks;
  }

  /** Called when this tab becomes the owner, and whenever another has something to send. */
  onWanted(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** There is something to send: tells the owner; one that does not answer is the owner no longer. */
  ask(): void {
    if (this.isOwner || this.isEnded || this.callOff) return;
    this.callOff = this.parts.later(() => {
      this.callOff = undefined;
      this.giveUpWaiting.abort();
      void this.hold({ steal: true });
    }, patienceMs);
    this.parts.channel?.postMessage("is-anybody-there" satisfies Said);
  }

  end(): void {
    this.isEnded = true;
    this.stopListening();
    this.callOff?.();
    this.listeners.clear();
    this.giveUpWaiting.abort();
    this.letGo?.();
    this.parts.channel?.close();
  }

  private hear(said: Said): void {
    if (said === "here") {
      this.callOff?.();
      this.callOff = undefined;
    } else if (this.isOwner) {
      this.parts.channel?.postMessage("here" satisfies Said);
      this.tell();
    }
  }

  private async stand(): Promise<void> {
    if (!this.parts.locks || this.isEnded) return;
    this.giveUpWaiting = new AbortController();
    await this.hold({ signal: this.giveUpWaiting.signal });
  }

  private async hold(how: { signal?: AbortSignal; steal?: boolean }): Promise<void> {
    const { locks } = this.parts;
    if (!locks || this.isEnded) return;
    try {
      await locks.request(this.name, how, () => this.untilLetGo());
    } catch (error) {
      if (!(error instanceof DOMException && error.name === "AbortError")) throw error;
      // no longer waiting for it, because this tab takes it at once; or another tab took it away
      if (how.signal?.aborted) return;
    }
    this.letGo = undefined;
    await this.stand();
  }

  private untilLetGo(): Promise<void> {
    return new Promise((resolve) => {
      this.letGo = resolve;
      this.tell();
    });
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

/** The line of this browser's tabs for one member's queue. */
export function browserTab(name: string): OwnerTab {
  const isThere = typeof navigator !== "undefined" && navigator.locks !== undefined;
  return new OwnerTab(name, {
    ...(isThere ? { locks: navigator.locks, channel: new BroadcastChannel(`${name}:tab`) } : {}),
    later: (run, afterMs) => {
      const timer = setTimeout(run, afterMs);
      return () => clearTimeout(timer);
    },
    onFreeze: (run) => {
      if (typeof document === "undefined") return () => undefined;
      document.addEventListener("freeze", run);
      return () => document.removeEventListener("freeze", run);
    },
  });
}
