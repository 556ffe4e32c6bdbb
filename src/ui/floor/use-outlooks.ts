"use client";
import { useMemo, useRef } from "react";
import { useFloor, useNow } from "~/device/react";
import { isSameList } from "~/device/same-list";
import { bySoonest, byStage, steadyOrder } from "./floor-order";
import { type Outlook, outlookHere } from "./outlook";

/** Every piece on the floor with what the rules say about it now; worked out anew each minute, and where it has changed. */
export function useOutlooks() {
  const facts = useFloor((floor) => floor);
  const seq = useFloor((_, floor) => floor.seq);
  const now = useNow(60_000);
  const shop = facts.all("shop")[0];
  const seen = useRef<Outlook[]>([]);
  const outlooks = useMemo(() => {
    const pieces = shop ? facts.all("piece").filter((piece) => piece.archivedAt === undefined) : [];
    const found = pieces.flatMap((piece) => (shop ? outlookHere(facts, piece, shop, now) : []));
    if (!isSameList(seen.current, found)) seen.current = found;
    return seen.current;
  }, [facts, shop, now]);
  return { facts, now, zone: shop?.zone ?? "UTC", outlooks, isHere: shop !== undefined && seq > 0 };
}

/** In stage order on a laptop, soonest first on a phone, and then left alone: nothing jumps while somebody looks. */
export function useSteadyOrder(outlooks: readonly Outlook[], now: number, isWide: boolean): Outlook[] {
  const seen = useRef<{ isWide: boolean; ids: string[] }>({ isWide, ids: [] });
  return useMemo(() => {
    const wanted = [...outlooks].sort(isWide ? byStage : bySoonest(now)).map(({ piece }) => piece.id);
    const before = seen.current.isWide === isWide ? seen.current.ids : [];
    const ids = steadyOrder(before, wanted);
    seen.current = { isWide, ids };
    const byId = new Map(outlooks.map((outlook) => [outlook.piece.id, outlook]));
    return ids.flatMap((id) => byId.get(id) ?? []);
  }, [outlooks, now, isWide]);
}
