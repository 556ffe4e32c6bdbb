/** Whether two lists hold the very same things in the same order. */
export const isSameList = (one: readonly unknown[], other: readonly unknown[]): boolean =>
  one.length === other.length && one.every((value, index) => Object.is(value, other[index]));
