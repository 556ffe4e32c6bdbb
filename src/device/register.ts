/** Starts the service worker and has it keep the pages that must open without a server. */

/** Pages that are the same for everybody; what they show comes from this device. */
export const shellPaths = [
  "/floor",
  "/safe",
  "/bench",
  "/piece",
  "/week",
  "/rooms",
  "/shelf",
  "/members",
  "/mixing",
  "/more",
  "/closing",
  "/hit",
] as const;

/** Sheets and screens that a page fetches only when it needs them are named in no page: the server names all of them. */
async function allParts(): Promise<string[]> {
  try {
    const answer = await fetch("/parts.json");
    return answer.ok ? ((await answer.json()) as string[]) : [];
  } catch (error) {
    // no signal: what was kept before stays as it is
    if (error instanceof TypeError) return [];
    throw error;
  }
}

export type ShellsCached = { cached: string[]; failed: string[] };

/**
 * @param buildId a new one makes a new cache; the old one is dropped once the new one is full
 * @returns which pages now open without a server
 */
export async function registerOfflinePages(buildId: string): Promise<ShellsCached> {
  await navigator.serviceWorker.register(`/sw.js?build=${encodeURIComponent(buildId)}`);
  const { active } = await navigator.serviceWorker.ready;
  if (!active) return { cached: [], failed: [...shellPaths] };
  const { port1, port2 } = new MessageChannel();
  const answer = new Promise<ShellsCached>((resolve) => {
    port1.onmessage = ({ data }) => resolve(data as ShellsCached);
  });
  active.postMessage({ cache: shellPaths, assets: await allParts() }, [port2]);
  return answer;
}
