/**
 * Where the caret of somebody who is writing stands after another's words came into the same text: it keeps its place among
 * the words around it, also when the text before it grew or shrank.
 *
 * @param caret characters before it, 0 to the length of `was`
 */
export function caretAfter(was: string, is: string, caret: number): number {
  const shorter = Math.min(was.length, is.length);
  let start = 0;
  while (start < shorter && was[start] === is[start]) start += 1;
  let tail = 0;
  while (tail < shorter - start && was[was.length - 1 - tail] === is[is.length - 1 - tail]) tail += 1;
  const removedTo = was.length - tail;
  if (caret <= start) return caret;
  return caret >= removedTo ? caret + is.length - was.length : is.length - tail;
}
