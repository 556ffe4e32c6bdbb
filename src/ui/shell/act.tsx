"use client";
/**
 * How a screen does something: proposed to the rules on this device, kept, sent. A refusal opens the refusal sheet at once,
 * with the same four fields everywhere; what is kept says so in one line.
 */
import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from "react";
import type { Refusal } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import type { Proposed } from "~/device/propose";
import { useDevice, useFloor, usePropose } from "~/device/react";
import { moment } from "../format";
import { Key } from "../kit/key";
import { RefusalSheet } from "../kit/refusal-sheet";
import { Toasts, tell, toastLine } from "../kit/toasts";
import { actionWord } from "../trade-words";
import { wordsOf } from "../wording";
import { namesFrom } from "./names";

export type ActOptions = {
  happenedAt?: InstantMs;
  /** The piece that it is about, for the head of a refusal. */
  tag?: string;
  name?: string;
  /** Said in one line when it is kept. */
  said?: string;
  /** Keys to offer beside the refusal: test by hand, it is done all the same. */
  instead?: (refusal: Refusal, close: () => void) => ReactNode;
};

export type Act = (kind: string, body: unknown, options?: ActOptions) => Promise<Proposed>;

const ActContext = createContext<Act | undefined>(undefined);

export function useAct(): Act {
  const act = useContext(ActContext);
  if (!act) throw new Error("useAct outside of the shop's shell");
  return act;
}

const line = toastLine();

type Shown = { refusal: Refusal; options: ActOptions; now: InstantMs };

export function ActProvider({ children }: { children: ReactNode }) {
  const propose = usePropose();
  const [shown, setShown] = useState<Shown>();
  const { clock } = useDevice();
  const act = useCallback<Act>(
    async (kind, body, options = {}) => {
      const proposed = await propose(kind, body, { happenedAt: options.happenedAt });
      if (proposed.state === "refused") setShown({ refusal: proposed.refusal, options, now: clock.now() });
      if (proposed.state === "not-kept")
        tell(line, { text: "Not kept on this device. Open More to save it as a file.", atRisk: true });
      if (proposed.state === "kept" && options.said) tell(line, { text: options.said });
      return proposed;
    },
    [propose, clock],
  );
  return (
    <ActContext.Provider value={act}>
      {children}
      {shown && <Refused {...shown} close={() => setShown(undefined)} />}
      <Toasts line={line} />
    </ActContext.Provider>
  );
}

function Refused({ refusal, options, now, close }: Shown & { close: () => void }) {
  const facts = useFloor((floor) => floor);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const words = useMemo(() => wordsOf(refusal, { names: namesFrom(facts), now, zone }), [refusal, facts, now, zone]);
  const action = "action" in refusal ? actionWord(refusal.action) : words.title;
  return (
    <RefusalSheet
      isOpen
      onOpenChange={(isOpen) => !isOpen && close()}
      title={words.title}
      tag={options.tag}
      name={options.name}
      plate={
        refusal.earliestAt === undefined
          ? { form: "barred", action, verb: "By hand" }
          : {
              form: "waiting",
              action,
              time: moment(refusal.earliestAt, now, zone),
              likely: refusal.likelyAt === undefined ? undefined : `likely ${moment(refusal.likelyAt, now, zone)}`,
            }
      }
      found={words.found}
      why={words.why}
      instead={words.instead}
      keys={options.instead?.(refusal, close) ?? <Key onPress={close}>Leave it</Key>}
    />
  );
}
