"use client";
import type { Refusal } from "~/core/shop/refusal";
import { Key } from "~/ui/kit/key";
import { isOfGate } from "./piece-act";

export type GateSaidNoProps = {
  refusal: Refusal;
  close: () => void;
  /** Tells it as done: it is kept as it was, marked, and somebody is asked to look. */
  onDone?: () => void;
  onTest?: () => void;
};

/** The keys beside a gate's no: nothing forbids telling the truth, and a hand on the piece outranks the clock. */
export function GateSaidNo({ refusal, close, onDone, onTest }: GateSaidNoProps) {
  if (!isOfGate(refusal)) return null;
  const closing = (then: () => void) => () => {
    close();
    then();
  };
  return (
    <>
      {onTest && (
        <Key glove wide onPress={closing(onTest)}>
          I tested it by hand
        </Key>
      )}
      {onDone && (
        <Key glove wide kind="take-back" onPress={closing(onDone)}>
          It is done already
        </Key>
      )}
    </>
  );
}
