/** How screens read the device: hooks over one `DeviceStore`, which a provider above them holds. */
import { createContext, useCallback, useContext, useEffect, useRef, useState, useSyncExternalStore } from "react";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import type { Presence } from "~/core/wire";
import type { NotesCopy, NotesShown } from "./notes-copy";
import type { Propose } from "./propose";
import { isSameList } from "./same-list";
import type { DeviceSnapshot, DeviceStore } from "./store";

export const DeviceContext = createContext<DeviceStore | undefined>(undefined);

export function useDevice(): DeviceStore {
  const store = useContext(DeviceContext);
  if (!store) throw new Error("this screen stands outside of a DeviceContext");
  return store;
}

/** A part of what the device knows; the screen is drawn again only when that part is different. */
function useSelected<Part>(select: (snapshot: DeviceSnapshot) => Part): Part {
  const store = useDevice();
  const last = useRef<{ snapshot: DeviceSnapshot; select: unknown; part: Part }>(undefined);
  const getPart = () => {
    const snapshot = store.getSnapshot();
    const before = last.current;
    if (before?.snapshot === snapshot && before.select === select) return before.part;
    const found = select(snapshot);
    const isSame = before && Array.isArray(before.part) && Array.isArray(found) && isSameList(before.part, found);
    const part = isSame ? before.part : found;
    last.current = { snapshot, select, part };
    return part;
  };
  return useSyncExternalStore(store.subscribe, getPart, getPart);
}

export type FloorShown = Pick<DeviceSnapshot, "facts" | "pendingRows" | "seq">;

/** Reads the floor with what is pending laid over it. */
export const useFloor = <Part>(select: (facts: Facts, floor: FloorShown) => Part): Part =>
  useSelected((snapshot) => select(snapshot.facts, snapshot));

const pendingOf = ({ kept, verdictByIntentId, pendingRows, notKept, lost }: DeviceSnapshot) =>
  [kept, verdictByIntentId, pendingRows, notKept, lost] as const;

/** What waits on this device or was refused, and what this device thinks of it. */
export function usePending() {
  const store = useDevice();
  const { queue } = store;
  const [kept, verdictByIntentId, pendingRows, notKept, lost] = useSelected(pendingOf);
  return {
    waiting: kept.filter((row) => row.state === "waiting"),
    refused: kept.filter((row) => row.state === "refused"),
    verdictByIntentId,
    pendingRows,
    notKept,
    lost,
    dismiss: (...intentIds: string[]) => queue.dismiss(...intentIds),
    sendAgain: (intentIds: readonly string[], happenedAt?: InstantMs) => store.sendAgain(intentIds, happenedAt),
  };
}

const connectionOf = ({ connection, heardAt, delivery }: DeviceSnapshot) => [connection, heardAt, delivery] as const;

export function useConnection() {
  const [connection, heardAt, delivery] = useSelected(connectionOf);
  return { connection, heardAt, delivery };
}

/** That this member's place in the shop has ended, and what was delivered from here after it. */
export const useEnded = () => useSelected(({ ended }: DeviceSnapshot) => ended);

const tickers = new Map<number, { listeners: Set<() => void>; timer: ReturnType<typeof setInterval> }>();

/** One timer per interval, however many screens watch it. */
function onTick(intervalMs: number, listener: () => void): () => void {
  const running = tickers.get(intervalMs);
  const listeners = running?.listeners ?? new Set<() => void>();
  listeners.add(listener);
  if (!running) {
    const tell = () => {
      for (const each of listeners) each();
    };
    tickers.set(intervalMs, { listeners, timer: setInterval(tell, intervalMs) });
  }
  return () => {
    listeners.delete(listener);
    const ticker = tickers.get(intervalMs);
    if (!ticker || listeners.size > 0) return;
    clearInterval(ticker.timer);
    tickers.delete(intervalMs);
  };
}

/**
 * True time, moving on every so often and with every change of the floor: what somebody has just said or tested counts at
 * once, not with the next stroke of the clock.
 */
export function useNow(intervalMs: number): InstantMs {
  const store = useDevice();
  const subscribe = useCallback(
    (listener: () => void) => {
      const stops = [onTick(intervalMs, listener), store.subscribe(listener)];
      return () => {
        for (const stop of stops) stop();
      };
    },
    [intervalMs, store],
  );
  const getNow = () => {
    const now = store.clock.now();
    const { factsSinceAt } = store.getSnapshot();
    const stroke = Math.floor(now / intervalMs) * intervalMs;
    // a clock that was set right since may have been ahead then
    return factsSinceAt <= now ? Math.max(stroke, factsSinceAt) : stroke;
  };
  return useSyncExternalStore(subscribe, getNow, getNow);
}

export const usePropose = (): Propose => useDevice().propose;

/** Who of the others is looking where, and telling them where this member looks. */
export function usePresence(lookingAt?: string): readonly Presence[] {
  const store = useDevice();
  useEffect(() => {
    store.lookAt(lookingAt);
    return () => store.lookAt(undefined);
  }, [store, lookingAt]);
  return useSyncExternalStore(store.subscribePresence, store.getPresence, store.getPresence);
}

export type NotesHere = { shown: NotesShown } & Pick<NotesCopy, "write" | "undo" | "redo">;

/** The notes of a piece, open as long as the screen is; nothing while they are being opened. */
export function useNotes(pieceId: string): NotesHere | undefined {
  const store = useDevice();
  const [notes, setNotes] = useState<NotesCopy>();
  useEffect(() => {
    let isOver = false;
    const opening = store.openNotes(pieceId);
    void opening.then((opened) => !isOver && setNotes(opened));
    return () => {
      isOver = true;
      setNotes(undefined);
      void opening.then((opened) => opened.end());
    };
  }, [store, pieceId]);
  const subscribe = useCallback((listener: () => void) => notes?.subscribe(listener) ?? (() => {}), [notes]);
  const getShown = () => notes?.shown;
  const shown = useSyncExternalStore(subscribe, getShown, getShown);
  if (!notes || !shown) return undefined;
  return {
    shown,
    write: (name, wanted) => notes.write(name, wanted),
    undo: () => notes.undo(),
    redo: () => notes.redo(),
  };
}
