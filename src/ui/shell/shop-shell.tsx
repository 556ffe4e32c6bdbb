"use client";
/** Around every screen of the shop: opens what this device knows, and shows where one is, as whom, and what is not sent. */
import dynamic from "next/dynamic";
import { usePathname, useRouter } from "next/navigation";
import { type ReactNode, useEffect, useState } from "react";
import { minuteMs } from "~/core/units";
import { LastDelivery } from "~/device/last-delivery";
import { DeviceContext, useConnection, useFloor, useNow } from "~/device/react";
import { registerOfflinePages } from "~/device/register";
import { offlineAvailability } from "~/device/session";
import { DeviceStore } from "~/device/store";
import { ApiProvider, apiClient, isSignedOut, serverLink } from "../api";
import { clockTime, dayName, moment } from "../format";
import { Dock } from "../kit/dock";
import { Notice } from "../kit/notice";
import { OfflineBand } from "../kit/offline-band";
import { TopBar } from "../kit/top-bar";
import { ActProvider } from "./act";
import { useClientNavigation } from "./client-navigation";
import { ClosedNotice } from "./closed-notice";
import { SessionContext } from "./session-context";
import { forgetSession, keepSession, type SessionHere, sessionHere } from "./session-here";
import { BarePage } from "./shop-frame";
import { WhoIsHere } from "./who-is-here";

const Notices = dynamic(() => import("./notices").then((module) => module.Notices), { ssr: false });

const places = [
  { href: "/floor", words: "Floor", onDock: true },
  { href: "/safe", words: "Safe to move", onDock: true },
  { href: "/bench", words: "Bench", onDock: true },
  { href: "/week", words: "Week’s end", onDock: true },
  { href: "/rooms", words: "Rooms", onDock: false },
  { href: "/hit", words: "What was hit", onDock: false },
  { href: "/shelf", words: "Shelf", onDock: false },
  { href: "/mixing", words: "Mixing", onDock: false },
  { href: "/members", words: "Members", onDock: false },
  { href: "/closing", words: "Closing up", onDock: false },
  { href: "/more", words: "More", onDock: true },
];

const titles: Record<string, string> = {
  "/floor": "Floor",
  "/safe": "Safe to move",
  "/bench": "Bench",
  "/week": "Week’s end",
  "/rooms": "Rooms",
  "/hit": "What was hit",
  "/shelf": "Shelf",
  "/mixing": "Mixing sheet",
  "/members": "Members",
  "/piece": "Piece",
  "/closing": "Closing up",
  "/more": "More",
};

async function hasLeft({ shopId, deviceId, memberId, isSharedTablet }: SessionHere): Promise<boolean> {
  if (!memberId || isSharedTablet || typeof indexedDB === "undefined") return false;
  const ended = await new LastDelivery({ shopId, deviceId, memberId }, serverLink, true).look();
  return ended !== undefined;
}

/** Asks the server who this device is signed in as; without signal, what was kept counts. */
async function freshSession(kept: SessionHere | undefined): Promise<SessionHere | undefined> {
  try {
    const me = await apiClient.account.me.query();
    const isTablet = me.isSharedTablet;
    const fresh: SessionHere = {
      shopId: me.shopId,
      shopName: me.shopName,
      deviceId: me.deviceId,
      isSharedTablet: isTablet,
      memberId: isTablet ? kept?.memberId : me.memberId,
      role: isTablet ? undefined : me.role,
    };
    keepSession(fresh);
    return fresh;
  } catch (error) {
    if (!isSignedOut(error)) return kept;
    // whoever has left may still deliver from here, and reads what became of it
    if (kept && (await hasLeft(kept))) return kept;
    forgetSession();
    return undefined;
  }
}

export function ShopShell({ buildId, children }: { buildId: string; children: ReactNode }) {
  const router = useRouter();
  useClientNavigation();
  const [session, setSession] = useState<SessionHere>();
  const [store, setStore] = useState<DeviceStore>();

  useEffect(() => {
    const kept = sessionHere();
    if (kept) setSession(kept);
    void freshSession(kept).then((fresh) => {
      if (fresh) setSession((shown) => (JSON.stringify(shown) === JSON.stringify(fresh) ? shown : fresh));
      else router.replace("/sign-in");
    });
    if (offlineAvailability().isAvailable && process.env.NODE_ENV === "production") void registerOfflinePages(buildId);
  }, [router, buildId]);

  const { shopId, deviceId, memberId, isSharedTablet } = session ?? {};
  useEffect(() => {
    if (!shopId || !deviceId) return;
    let isOver = false;
    let opened: DeviceStore | undefined;
    // on the shared tablet with nobody picked, the floor is read in nobody's name
    const owner = { shopId, deviceId, memberId: memberId ?? deviceId, isSharedTablet: isSharedTablet ?? false };
    void DeviceStore.open(owner, serverLink).then((store) => {
      opened = store;
      if (isOver) void store.end();
      else setStore(store);
    });
    return () => {
      isOver = true;
      setStore(undefined);
      void opened?.end();
    };
  }, [shopId, deviceId, memberId, isSharedTablet]);

  const pick = (picked: string | undefined) => {
    if (!session) return;
    const next = { ...session, memberId: picked };
    keepSession(next);
    setSession(next);
  };

  return (
    <ApiProvider>
      {session && store ? (
        <SessionContext.Provider value={{ session, pick }}>
          <DeviceContext.Provider value={store}>
            <ActProvider>
              <Around shopName={session.shopName}>
                {session.isSharedTablet && !session.memberId ? <WhoIsHere /> : children}
              </Around>
            </ActProvider>
          </DeviceContext.Provider>
        </SessionContext.Provider>
      ) : (
        <BarePage />
      )}
    </ApiProvider>
  );
}

function Around({ shopName, children }: { shopName: string; children: ReactNode }) {
  const path = usePathname();
  const now = useNow(15_000);
  const { connection, heardAt } = useConnection();
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone) ?? "UTC";
  const member = useMemberHere();
  const offline = offlineAvailability();
  const isStale = heardAt !== undefined && now - heardAt > 15 * minuteMs;
  const shown = places.map(({ href, words }) => ({ href, words, isCurrent: path.startsWith(href) }));
  const onDock = shown.filter((_, index) => places[index]?.onDock);
  const isApart = connection.state !== "live" && connection.state !== "closed" && heardAt !== undefined;
  return (
    <>
      <OfflineBand since={isApart ? moment(heardAt, now, zone) : undefined} />
      <TopBar
        title={titles[path] ?? "Tackfree"}
        shop={shopName}
        places={shown.filter(({ href }) => href !== "/more")}
        clock={clockTime(now, zone)}
        day={dayName(now, zone)}
        asOf={isStale ? clockTime(heardAt, zone) : undefined}
        member={member && { letter: member.markLetter, outline: member.markOutline, name: member.name, href: "/more" }}
      />
      {!offline.isAvailable && offline.because === "no-secure-context" && (
        <Notice kind="device" title="Working without signal is off here">
          This address is not secure, so nothing can be kept on this device. Use the https address that the shop’s
          terminal shows.
        </Notice>
      )}
      <main className="page">
        <ClosedNotice />
        <Notices />
        {children}
      </main>
      <Dock places={onDock} />
    </>
  );
}

function useMemberHere() {
  const memberId = sessionHere()?.memberId;
  return useFloor((facts) => (memberId ? facts.get("member", memberId) : undefined));
}
