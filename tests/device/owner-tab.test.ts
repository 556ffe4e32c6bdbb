import { afterEach, expect, test, vi } from "vitest";
import { OwnerTab } from "~/device/owner-tab";
import { LocksOfBrowser } from "./support/browser";

const opened: OwnerTab[] = [];
afterEach(() => {
  for (const tab of opened.splice(0)) tab.end();
});

/** Tabs of one browser: their locks, what they say to each other, and their timers in the test's hand. */
function browser() {
  const locks = new LocksOfBrowser();
  const channels: { onmessage: ((event: MessageEvent) => void) | null; isDeaf: boolean }[] = [];
  const openTab = () => {
    const timers: (() => void)[] = [];
    let freeze: () => void = () => {};
    const channel = {
      onmessage: null as ((event: MessageEvent) => void) | null,
      isDeaf: false,
      postMessage(data: unknown) {
        for (const other of channels)
          if (other !== channel && !other.isDeaf) other.onmessage?.({ data } as MessageEvent);
      },
      close: () => void channels.splice(channels.indexOf(channel), 1),
    };
    channels.push(channel);
    const wanted = vi.fn();
    const tab = new OwnerTab("the queue", {
      locks: locks as unknown as LockManager,
      channel,
      later: (run) => {
        timers.push(run);
        return () => void timers.splice(timers.indexOf(run), 1);
      },
      onFreeze: (run) => {
        freeze = run;
        return () => undefined;
      },
    });
    tab.onWanted(wanted);
    opened.push(tab);
    const runOutOfPatience = () => {
      for (const run of timers.splice(0)) run();
    };
    return { tab, wanted, channel, timers, runOutOfPatience, freeze: () => freeze() };
  };
  return { openTab };
}

test("of two tabs the first delivers; when it is closed, the other takes over and is told to begin", async () => {
  const { openTab } = browser();
  const [first, second] = [openTab(), openTab()];
  expect([first.tab.isOwner, second.tab.isOwner]).toEqual([true, false]);
  first.tab.end();
  await vi.waitUntil(() => second.tab.isOwner);
  expect(second.wanted).toHaveBeenCalledTimes(1);
});

test("a tab that has something to send tells the owner, who answers and is not robbed", () => {
  const { openTab } = browser();
  const [first, second] = [openTab(), openTab()];
  first.wanted.mockClear();
  second.tab.ask();
  expect(first.wanted).toHaveBeenCalledTimes(1);
  expect(second.timers).toEqual([]);
  expect([first.tab.isOwner, second.tab.isOwner]).toEqual([true, false]);
});

test("an owner that the browser has stopped is not waited for; when it wakes it knows that it is the owner no longer", async () => {
  const { openTab } = browser();
  const [first, second] = [openTab(), openTab()];
  first.channel.isDeaf = true;
  second.tab.ask();
  second.runOutOfPatience();
  await vi.waitUntil(() => second.tab.isOwner);
  await vi.waitUntil(() => !first.tab.isOwner);
  expect(second.wanted).toHaveBeenCalledTimes(1);
  second.tab.end();
  await vi.waitUntil(() => first.tab.isOwner);
});

test("a tab that is about to be frozen lets the next one deliver, and stands in line again", async () => {
  const { openTab } = browser();
  const [first, second] = [openTab(), openTab()];
  first.freeze();
  await vi.waitUntil(() => second.tab.isOwner);
  expect(first.tab.isOwner).toBe(false);
  second.freeze();
  await vi.waitUntil(() => first.tab.isOwner);
});

test("where a browser has no locks, every tab delivers", () => {
  const tab = new OwnerTab("the queue", { later: () => () => undefined, onFreeze: () => () => undefined });
  expect(tab.isOwner).toBe(true);
});
