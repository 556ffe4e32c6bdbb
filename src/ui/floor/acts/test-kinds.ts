import type { TestKind } from "~/core/shop/entities/tests";
import type { HandTest, Piece } from "~/core/shop/tables";
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
  "moisture-meter": "Pins across the grain at the thickest, most sheltered spot. Write the percentage down.",
  weight: "Weigh it today and again a day later: dry when it loses no more.",
  "pull-or-tap": "Pull by hand, tap along it: no movement, no dull sound.",
  "chalk-look": "Look along the glue line: a white, powdery line has failed.",
  "drop-on-glass": "A drop on glass overnight: hard by the morning.",
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
const wetKinds: TestKind[] = ["moisture-meter", "weight"];
const jointKinds: TestKind[] = ["pull-or-tap", "chalk-look"];
const paintKinds: TestKind[] = ["lead-swab", "lead-laboratory"];

export const isAboutOldPaint = (kind: TestKind | undefined): boolean => kind !== undefined && paintKinds.includes(kind);

/**
 * What can be tested on a piece: films by hand, bare wood by meter and scale, joints, and old paint for lead unless it is
 * known that there is none.
 */
export const testChoices = (
  piece: Piece,
  hasSurfaces: boolean,
  hasJoints = false,
): { id: TestKind; words: string; detail: string }[] =>
  [
    ...(hasSurfaces ? [...filmKinds, ...wetKinds] : []),
    ...(hasJoints ? jointKinds : []),
    ...(piece.isPainted === "no" ? [] : paintKinds),
  ].map((id) => {
    const words = testWords[id];
    return { id, words: `${words[0]?.toUpperCase()}${words.slice(1)}`, detail: testHow[id] };
  });

export type TestResult = HandTest["result"];
type ResultChoice = { id: TestResult; words: string };

const unclear: ResultChoice = { id: "unclear", words: "Not clear" };

const resultsByKind: Partial<Record<TestKind, ResultChoice[]>> = {
  "bleed-patch": [
    { id: "pending", words: "Laid, look in a day" },
    { id: "pass", words: "Clean after a day" },
    { id: "fail", words: "It bleeds through" },
    unclear,
  ],
  "pull-or-tap": [{ id: "pass", words: "Sound" }, { id: "fail", words: "Failed" }, unclear],
  "chalk-look": [{ id: "fail", words: "White and powdery" }, { id: "pass", words: "No white to be seen" }, unclear],
  "moisture-meter": [
    { id: "pass", words: "Dry" },
    { id: "fail", words: "Wet" },
    { id: "unclear", words: "Says nothing yet" },
  ],
  weight: [
    { id: "pass", words: "Dry" },
    { id: "fail", words: "Still losing water" },
    { id: "pending", words: "Weighed, weigh again in a day" },
  ],
};

/** What a result means, in the words of its test: a failed lead test is one that found lead. */
export const resultChoices = (kind: TestKind | undefined): ResultChoice[] => {
  if (isAboutOldPaint(kind))
    return [
      { id: "fail", words: "Lead found" },
      { id: "pass", words: "No lead found" },
      unclear,
      { id: "pending", words: "Sent away, no answer yet" },
    ];
  return (
    (kind && resultsByKind[kind]) ?? [
      { id: "pass", words: "Passed" },
      { id: "fail", words: "Failed" },
      unclear,
      { id: "pending", words: "Still waiting" },
    ]
  );
};
