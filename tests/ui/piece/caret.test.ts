import { expect, test } from "vitest";
import { caretAfter } from "~/ui/piece/caret";

// Counted by hand in "chip at the foot": the caret after "chip" is 4, after "the" 11, at the end 16.
test.each([
  {
    was: "chip at the foot",
    is: "small chip at the foot",
    caret: 4,
    stands: 10,
    words: "goes along with words that come before it",
  },
  {
    was: "chip at the foot",
    is: "chip at the back foot",
    caret: 4,
    stands: 4,
    words: "stays where it is for words behind it",
  },
  {
    was: "chip at the foot",
    is: "chip at the foot.",
    caret: 16,
    stands: 16,
    words: "stays at its place when another writes on behind it",
  },
  {
    was: "chip at the foot",
    is: "at the foot",
    caret: 11,
    stands: 6,
    words: "moves back when words before it are taken out",
  },
  {
    was: "chip at the foot",
    is: "chip foot",
    caret: 8,
    stands: 5,
    words: "ends where the words around it were taken out",
  },
])("the caret $words", ({ was, is, caret, stands }) => {
  expect(caretAfter(was, is, caret)).toBe(stands);
});
