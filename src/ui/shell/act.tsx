"use client";
/**
 * How a screen does something: proposed to the rules on this device, kept, sent. A refusal opens the refusal sheet at once,
 * with the same four fields everywhere; what is kept says so in one line.
 */
import dynamic from "next/dynamic";
import { createContext, type ReactNode, useCallback, useContext, useState } from "react";
import type { Refusal } from "~/core/shop/refusal";
import { mayBeTakenBack } from "~/core/shop/ways-back";
import type { InstantMs } from "~/core/units";
import type { Proposed } from "~/device/propose";
import { useDevice, usePropose } from "~/device/react";
import type { TakenBack } from "~/device/take-back";
import { Toasts, tell, toastLine } from "../kit/toasts";
import { takeBackWords } from "../wording/take-back";
import type { Shown } from "./refused";

/** The piece that it is about, for the head of a refusal. */
export type Head = { tag?: string; name?: string };

export type ActOptions = Head & {
  happenedAt?: InstantMs;
  /** Said in one line when it is kept. */
  said?: string;
  /** Keys to offer beside the refusal: test by hand, it is done all the same. */
  instead?: (refusal: Refusal, close: () => void) => ReactNode;
};

export type Act = (kind: string, body: unknown, options?: ActOptions) => Promise<Proposed>;

/** Takes one's own act back, or says why not. */
export type TakeBackHere = (intentId: string, head?: Head) => Promise<TakenBack>;

const ActContext = createContext<Act | undefined>(undefined);
const TakeBackContext = createContext<TakeBackHere | undefined>(undefined);

export function useTakeBack(): TakeBackHere {
  const takeBack = useContext(TakeBackContext);
  if (!takeBack) throw new Error("useTakeBack outside of the shop's shell");
  return takeBack;
}

export function useAct(): Act {
  const act = useContext(ActContext);
  if (!act) throw new Error("useAct outside of the shop's shell");
  return act;
}

const line = toastLine();

const notKeptWords = {
  text: "Not kept on this device. Do not do it again: open More, and keep or save it there.",
  atRisk: true,
};

const Refused = dynamic(() => import("./refused").then((module) => module.Refused), { ssr: false });

export function ActProvider({ children }: { children: ReactNode }) {
  const propose = usePropose();
  const [shown, setShown] = useState<Shown>();
  const device = useDevice();
  const { clock } = device;
  const takeBack = useCallback<TakeBackHere>(
    async (intentId, head = {}) => {
      const taken = await device.takeBack(intentId);
      if (taken.state === "refused") setShown({ refusal: taken.refusal, options: head, now: clock.now() });
      if (taken.state === "not-kept") tell(line, notKeptWords);
      if (taken.state === "withdrawn") tell(line, { text: takeBackWords.withdrawn });
      if (taken.state === "kept") tell(line, { text: takeBackWords.asked });
      return taken;
    },
    [device, clock],
  );
  const act = useCallback<Act>(
    async (kind, body, options = {}) => {
      const proposed = await propose(kind, body, { happenedAt: options.happenedAt });
      if (proposed.state === "refused") setShown({ refusal: proposed.refusal, options, now: clock.now() });
      if (proposed.state === "not-kept") tell(line, notKeptWords);
      if (proposed.state === "kept" && options.said) {
        const { intentId } = proposed.intent;
        const key = { words: takeBackWords.key, onPress: () => void takeBack(intentId, options) };
        tell(line, { text: options.said, ...(mayBeTakenBack(kind) ? { act: key } : {}) });
      }
      return proposed;
    },
    [propose, clock, takeBack],
  );
  return (
    <ActContext.Provider value={act}>
      <TakeBackContext.Provider value={takeBack}>{children}</TakeBackContext.Provider>
      {shown && <Refused {...shown} close={() => setShown(undefined)} />}
      <Toasts line={line} />
    </ActContext.Provider>
  );
}
