"use client";
/**
 * How a screen does something: proposed to the rules on this device, kept, sent. A refusal opens the refusal sheet at once,
 * with the same four fields everywhere; what is kept says so in one line.
 */
import dynamic from "next/dynamic";
import { createContext, type ReactNode, useCallback, useContext, useState } from "react";
import type { Refusal } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import type { Proposed } from "~/device/propose";
import { useDevice, usePropose } from "~/device/react";
import { Toasts, tell, toastLine } from "../kit/toasts";
import type { Shown } from "./refused";

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

const Refused = dynamic(() => import("./refused").then((module) => module.Refused), { ssr: false });

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
