"use client";
import { Board } from "../kit/board";
import { EmptyBoard } from "../kit/empty-board";
import { Key, Keys } from "../kit/key";
import type { MixingAct } from "./mixing-sheets";
import type { ShelfShown } from "./shelf-view";

type CansPartProps = { shelf: readonly ShelfShown[]; isHand: boolean; open: (act: MixingAct) => void };

/** What stands on the shelf: how much is left of each can, and which of them want a drop on glass before they are used. */
export function CansPart({ shelf, isHand, open }: CansPartProps) {
  const add = isHand && (
    <Key glove onPress={() => open({ act: "add-can" })}>
      Add a can
    </Key>
  );
  if (shelf.length === 0)
    return (
      <EmptyBoard
        title="No can is written down."
        sentence="Write the cans down and the sheet says whether there is enough, and which of them are too old."
      >
        {add}
      </EmptyBoard>
    );
  return (
    <>
      {shelf.map(({ product, cans }) => (
        <Board key={product.id} title={product.name}>
          <ul className="cans">
            {cans.map(({ can, left, leftWords, lifeWords, isPast }) => (
              <li key={can.id} data-past={isPast || undefined}>
                <span className="can-label">{can.label}</span>
                <span className="can-words">
                  <span>{leftWords}</span>
                  <small data-past={isPast || undefined}>{lifeWords}</small>
                  {left.asksForCount && <small data-past>More was used than was in it: look in and count it.</small>}
                </span>
                {isHand && (
                  <Key glove aria-label={`Can ${can.label}`} onPress={() => open({ act: "can", canId: can.id })}>
                    {isPast ? "Test it" : left.asksForCount ? "Count it" : "Change"}
                  </Key>
                )}
              </li>
            ))}
          </ul>
        </Board>
      ))}
      <div className="mixing-foot">
        <Keys>{add}</Keys>
      </div>
    </>
  );
}
