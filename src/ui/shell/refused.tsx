"use client";
import { useMemo } from "react";
import { roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Refusal } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import { useFloor } from "~/device/react";
import { moment } from "../format";
import { RefusalSheet } from "../kit/refusal-sheet";
import { actionWord } from "../trade-words";
import { wordsOf } from "../wording";
import type { ActOptions } from "./act";
import { namesFrom } from "./names";

export type Shown = { refusal: Refusal; options: ActOptions; now: InstantMs };

/** The refusal sheet: what was asked, until when, what was found, why, and what instead. */
export function Refused({ refusal, options, now, close }: Shown & { close: () => void }) {
  const facts = useFloor((floor) => floor);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const words = useMemo(() => wordsOf(refusal, { names: namesFrom(facts), now, zone }), [refusal, facts, now, zone]);
  const action = "action" in refusal ? actionWord(refusal.action) : undefined;
  return (
    <RefusalSheet
      isOpen
      onOpenChange={(isOpen) => !isOpen && close()}
      title={words.title}
      tag={options.tag}
      name={options.name}
      plate={
        refusal.earliestAt === undefined
          ? action === undefined
            ? undefined
            : { form: "barred", action, verb: "By hand" }
          : {
              form: "waiting",
              action: action ?? words.title,
              time: moment(roundUpToFiveMin(refusal.earliestAt), now, zone),
              likely:
                refusal.likelyAt === undefined ? undefined : moment(roundUpToFiveMin(refusal.likelyAt), now, zone),
            }
      }
      found={words.found}
      why={words.why}
      instead={words.instead}
      keys={options.instead?.(refusal, close)}
    />
  );
}
