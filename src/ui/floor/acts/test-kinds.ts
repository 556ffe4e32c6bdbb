import type { TestKind } from "~/core/shop/entities/tests";
import type { Piece } from "~/core/shop/tables";
import { testWords } from "~/ui/trade-words";

/** How each test is made by hand. Common practice of the trade; a coating's own data sheet goes before these lines. */
export const testHow: Record<TestKind, string> = {
  "fingertip-on-glass": "Touch the film, then clean glass: no mark on the glass.",
  "paper-drop": "Lay a scrap of paper on it and turn the piece: the paper falls off.",
  "recoat-patch": "Coat a small patch out of sight: no wrinkle, no lifting.",
  "thumb-twist": "Press with the thumb and turn a quarter: no mark.",
  fingernail: "Press a nail in where nobody looks: no dent.",
  "paper-press": "Paper between the faces under a weight for an hour: no print, nothing sticks.",
  "bleed-patch": "A patch of the pale coat, left for a day: no stain comes through.",
  "lead-swab": "A swab on a cut through every layer. It only screens.",
  "lead-laboratory": "A chip of every layer, or X-ray by a licensed person.",
};

const filmKinds: TestKind[] = [
  "thumb-twist",
  "paper-press",
  "fingernail",
  "paper-drop",
  "fingertip-on-glass",
  "recoat-patch",
  "bleed-patch",
];
const paintKinds: TestKind[] = ["lead-swab", "lead-laboratory"];

export const isAboutOldPaint = (kind: TestKind | undefined): boolean => kind !== undefined && paintKinds.includes(kind);

/** What can be tested on a piece: films by hand, and old paint for lead unless it is known that there is none. */
export const testChoices = (piece: Piece, hasSurfaces: boolean): { id: TestKind; words: string; detail: string }[] =>
  [...(hasSurfaces ? filmKinds : []), ...(piece.isPainted === "no" ? [] : paintKinds)].map((id) => {
    const words = testWords[id];
    return { id, words: `${words[0]?.toUpperCase()}${words.slice(1)}`, detail: testHow[id] };
  });

type Result = "pass" | "fail" | "unclear" | "pending";

/** What a result means, in the words of its test: a failed lead test is one that found lead. */
export const resultChoices = (kind: TestKind | undefined): { id: Result; words: string }[] =>
  isAboutOldPaint(kind)
    ? [
        { id: "fail", words: "Lead found" },
        { id: "pass", words: "No lead found" },
        { id: "unclear", words: "Not clear" },
        { id: "pending", words: "Sent away, no answer yet" },
      ]
    : [
        { id: "pass", words: "Passed" },
        { id: "fail", words: "Failed" },
        { id: "unclear", words: "Not clear" },
        { id: "pending", words: "Still waiting" },
      ];
