import type { Facts } from "~/core/shop/facts";
import type { Piece, RoomStay } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import { duration, moment } from "~/ui/format";
import { PiecePart } from "./piece-part";

const howWords: Record<RoomStay["how"], string> = {
  arrived: "came",
  bearers: "carried on a stand",
  hands: "carried by hand",
};

/** Hours up to two days, whole days beyond. */
const lengthWords = (ms: number): string => (ms < 2 * dayMs ? duration(ms / 1000) : `${Math.floor(ms / dayMs)} days`);

type RoomsPartProps = { facts: Facts; piece: Piece; now: InstantMs; zone: string };

/** Where it stood from when to when: the air that its films have had. */
export function RoomsPart({ facts, piece, now, zone }: RoomsPartProps) {
  const stays = facts.where("roomStay", "pieceId", piece.id).toSorted((one, other) => other.fromAt - one.fromAt);
  if (stays.length === 0) return null;
  return (
    <PiecePart title="Where it stood">
      <ul className="ruled-lines">
        {stays.map((stay) => (
          <li key={stay.id}>
            <p>
              <b>{facts.get("room", stay.roomId)?.name ?? "A room that is closed"}</b>{" "}
              <small>
                {`${howWords[stay.how]} ${moment(stay.fromAt, now, zone)}, `}
                {stay.toAt === undefined ? "there now" : lengthWords(stay.toAt - stay.fromAt)}
              </small>
            </p>
          </li>
        ))}
      </ul>
    </PiecePart>
  );
}
