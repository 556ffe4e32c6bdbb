import type { Picture } from "~/core/cure/picture";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import { pictureOf } from "~/core/shop/picture";

/** What this device knows of a piece's film; nothing when it does not carry enough of the air to say. */
export function pictureHere(facts: Facts, pieceId: string): Picture | undefined {
  try {
    return pictureOf(facts, pieceId);
  } catch (error) {
    if (error instanceof CannotTellHere) return undefined;
    throw error;
  }
}
