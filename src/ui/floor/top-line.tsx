import { PromiseFlag } from "~/ui/kit/promise-flag";
import { Stuck } from "~/ui/kit/stuck";
import type { Outlook } from "./outlook";
import type { RoomAirShown } from "./room-air";

/** What wants a person, in two figures, and on a laptop the air of the rooms. */
export function TopLine({ outlooks, airs }: { outlooks: readonly Outlook[]; airs: readonly RoomAirShown[] }) {
  const atRisk = outlooks.filter(({ promise }) => promise?.isAtRisk).length;
  const stuck = outlooks.filter((outlook) => outlook.stuck !== undefined).length;
  return (
    <div className="floor-line">
      {atRisk > 0 && <PromiseFlag atRisk text={atRisk === 1 ? "1 promise at risk" : `${atRisk} promises at risk`} />}
      {stuck > 0 && <Stuck text={`${stuck} stuck`} />}
      <ul className="floor-airs" aria-label="Rooms">
        {airs.map(({ id, name, air, readAt }) => (
          <li key={id}>
            <b>{air} </b>
            <span>
              {name.toLowerCase()}
              {readAt !== undefined && `, read ${readAt}`}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
