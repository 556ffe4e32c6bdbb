/** A screen that one can go to. Words, not pictures; the one where you are carries a chalk stroke. */
export type Place = { href: string; words: string; isCurrent?: boolean };
