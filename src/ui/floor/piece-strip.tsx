"use client";
import { useMemo } from "react";
import type { Facts } from "~/core/shop/facts";
import type { Member } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { Film } from "~/ui/kit/film";
import { Strip } from "~/ui/kit/strip";
import type { TapeProps } from "~/ui/kit/tape";
import { OpenedStrip } from "./opened-strip";
import type { Outlook } from "./outlook";
import { stripView } from "./strip-view";

export type PieceStripProps = {
  outlook: Outlook;
  facts: Facts;
  now: InstantMs;
  zone: string;
  looking: readonly Member[];
  pending?: TapeProps;
};

export function PieceStrip({ outlook, facts, now, zone, looking, pending }: PieceStripProps) {
  const { film, run, ...face } = useMemo(
    () => stripView(outlook, { zone, looking, pending }),
    [outlook, zone, looking, pending],
  );
  return (
    <Strip {...face} run={film ? { ...run, children: <Film {...film} /> } : run}>
      <OpenedStrip outlook={outlook} facts={facts} now={now} zone={zone} />
    </Strip>
  );
}
