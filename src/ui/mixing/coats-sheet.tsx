"use client";
import { CheckField } from "../kit/check-field";
import { Key, Keys } from "../kit/key";
import { Sheet } from "../kit/sheet";
import { Tag } from "../kit/tag";
import { area } from "./amount-words";
import type { PlannedCoat } from "./planned-coats";

type CoatsSheetProps = {
  planned: readonly PlannedCoat[];
  chosen: readonly string[];
  choose: (coatIds: string[]) => void;
  close: () => void;
};

/** Which of the planned coats the mix is for: the next one of each face to begin with. */
export function CoatsSheet({ planned, chosen, choose, close }: CoatsSheetProps) {
  const byPiece = new Map<string, PlannedCoat[]>();
  for (const coat of planned) byPiece.set(coat.piece.id, [...(byPiece.get(coat.piece.id) ?? []), coat]);
  const set = (coatId: string, isChosen: boolean) =>
    choose(planned.map(({ coat }) => coat.id).filter((id) => (id === coatId ? isChosen : chosen.includes(id))));
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Choose the coats" leaveWords="Done">
      <Keys>
        <Key onPress={() => choose(planned.filter(({ isNext }) => isNext).map(({ coat }) => coat.id))}>
          The next ones
        </Key>
        <Key onPress={() => choose([])}>None</Key>
      </Keys>
      {[...byPiece].map(([pieceId, coats]) => {
        const { piece } = coats[0] as PlannedCoat;
        return (
          <fieldset key={pieceId} className="field mixing-piece">
            <legend>
              <Tag number={piece.number} /> {piece.name}
            </legend>
            {coats.map(({ coat, surface, product }) => (
              <CheckField
                key={coat.id}
                label={`${surface.name}: ${product.name}, coat ${coat.position}, ${area(surface.squareDecimetres / 100)}`}
                isChecked={chosen.includes(coat.id)}
                onChange={(isChosen) => set(coat.id, isChosen)}
              />
            ))}
          </fieldset>
        );
      })}
    </Sheet>
  );
}
