"use client";
import { useState } from "react";
import { currentRole, floorHands } from "~/core/shop/roles";
import { minuteMs } from "~/core/units";
import { CheckField } from "~/ui/kit/check-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { chosenPot, potChoices } from "~/ui/mixing/pot-choices";
import { PotField } from "~/ui/mixing/pot-field";
import { Cautions } from "~/ui/piece/cautions";
import { airWords, coatCautions } from "~/ui/piece/coat-cautions";
import { labelOfNextCoat } from "~/ui/piece/label-here-view";
import { openRooms, roomDegrees } from "../room-air";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { coatProducts, nextPlannedCoats } from "./coat-choices";
import { GateSaidNo } from "./gate-said-no";
import { usePieceAct } from "./piece-act";
import { SeveralField } from "./several-field";
import { TestSheet } from "./test-sheet";
import { justNow, whenTyped } from "./typed-when";
import { WhenField } from "./when-field";

/** Not one of the planned coats: an extra one on a surface. */
const extra = "extra";

/** A coat went on: which, where, by whom, and when it was finished. Its film counts from that moment. */
export function CoatSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, today, me, newId, head, send } = usePieceAct(pieceId);
  const planned = nextPlannedCoats(facts, pieceId);
  const surfaces = facts.where("surface", "pieceId", pieceId);
  const [coatIds, setCoatIds] = useState<string[]>(() =>
    planned.length === 1 && planned[0] ? [planned[0].coat.id] : planned.length === 0 ? [extra] : [],
  );
  const [surfaceId, setSurfaceId] = useState<string>();
  const [sheetId, setSheetId] = useState<string>();
  const [roomId, setRoomId] = useState(piece?.roomId);
  const [by, setBy] = useState<string[]>(() => (me.memberId ? [me.memberId] : []));
  const [isScuffed, setScuffed] = useState(false);
  const [wetFilmMicrometres, setWetFilm] = useState(Number.NaN);
  const [tookMin, setTook] = useState(Number.NaN);
  const [when, setWhen] = useState(() => justNow(today));
  const [potId, setPot] = useState<string>();
  const [isPressed, setPressed] = useState(false);
  const [isTesting, setTesting] = useState(false);
  if (isTesting) return <TestSheet pieceId={pieceId} firstKind="recoat-patch" onClose={() => setTesting(false)} />;
  if (!piece) return null;

  const isExtra = coatIds.includes(extra);
  const coatsTold = () => {
    const chosen = planned.filter(({ coat }) => coatIds.includes(coat.id)).map(({ coat }) => ({ coatId: coat.id }));
    return isExtra ? [...chosen, { coatId: newId(), surfaceId, sheetId }] : chosen;
  };

  const coatsAtHand = () => {
    const film = Number.isNaN(wetFilmMicrometres) ? {} : { wetFilmMicrometres };
    const areaOf = (id: string | undefined) => surfaces.find((surface) => surface.id === id)?.squareDecimetres ?? 0;
    const chosen = planned.filter(({ coat }) => coatIds.includes(coat.id)).map(({ coat }) => coat);
    return [...chosen, ...(isExtra && sheetId ? [{ surfaceId, sheetId }] : [])].map((coat) => ({
      sheetId: coat.sheetId,
      squareDecimetres: areaOf(coat.surfaceId),
      ...film,
    }));
  };

  /** One report a coat, in order; a gate's no stops there, and what it stopped can be told as done. */
  const logEach = async (coats: ReturnType<typeof coatsTold>, common: object, stance: "asking" | "done") => {
    for (const [index, coat] of coats.entries()) {
      const isKept = await send(
        "log-coat",
        { ...coat, ...common, stance },
        {
          said: `${head.tag}: the coat is logged.`,
          instead: (refusal, close) => (
            <GateSaidNo
              refusal={refusal}
              close={close}
              onDone={() => void logEach(coats.slice(index), common, "done")}
              onTest={() => setTesting(true)}
            />
          ),
        },
      );
      if (!isKept) return;
    }
    onClose();
  };

  // several products at once came out of several pots: those are told one by one
  const productIds = new Set(
    [...planned.filter(({ coat }) => coatIds.includes(coat.id)).map(({ coat }) => coat.sheetId), isExtra && sheetId]
      .filter((id) => typeof id === "string")
      .map((id) => facts.get("sheet", id)?.productId),
  );
  const [productId] = productIds.size === 1 ? productIds : [];
  const pots = productId === undefined ? [] : potChoices(facts, productId, now, zone);

  const log = async () => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    const isWhole = typed.ok && coatIds.length > 0 && by.length > 0 && !Number.isNaN(tookMin);
    if (!isWhole || (isExtra && (!surfaceId || !sheetId))) return;
    const endedAt = typed.value.at ?? now;
    const film = Number.isNaN(wetFilmMicrometres) ? {} : { wetFilmMicrometres };
    const times = { startedAt: endedAt - tookMin * minuteMs, endedAt };
    const pot = chosenPot(pots, potId)?.told;
    await logEach(coatsTold(), { ...times, by, roomId, scuffedBefore: isScuffed, ...film, ...pot }, "asking");
  };

  const people = facts.all("member").filter((member) => {
    const role = currentRole(member);
    return role !== undefined && (floorHands as readonly string[]).includes(role);
  });
  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);

  const atHand = {
    coats: coatsAtHand(),
    ...(!Number.isNaN(tookMin) && { minutes: tookMin }),
  };

  if (surfaces.length === 0)
    return (
      <ActSheet title="Log a coat" {...head} onClose={onClose}>
        <p>It has no surface yet. Name one on the piece sheet (body, top, fronts), then a coat can lie on it.</p>
        <Key kind="main" glove wide href={`/piece?id=${pieceId}`}>
          Open the piece sheet
        </Key>
      </ActSheet>
    );
  return (
    <ActSheet title="Log a coat" {...head} onClose={onClose}>
      <SeveralField
        label="Which coat"
        chosen={coatIds}
        onChoose={setCoatIds}
        choices={[
          ...planned.map(({ coat, surfaceName, productName }) => ({
            id: coat.id,
            words: `${surfaceName}: ${productName}`,
          })),
          { id: extra, words: "Another one, that nobody planned" },
        ]}
        error={missing(coatIds.length === 0, "Say which coat went on.")}
      />
      {isExtra && (
        <>
          <ChoiceField
            label="Surface"
            glove
            chosen={surfaceId ?? null}
            onChoose={setSurfaceId}
            choices={surfaces.map((surface) => ({ id: surface.id, words: surface.name }))}
            error={missing(!surfaceId, "Choose the surface.")}
          />
          <ChoiceField
            label="Product"
            glove
            chosen={sheetId ?? null}
            onChoose={setSheetId}
            choices={coatProducts(facts).map((product) => ({ id: product.sheetId, words: product.words }))}
            error={missing(!sheetId, "Choose the product.")}
          />
        </>
      )}
      <ChoiceField
        label="Room"
        glove
        chosen={roomId ?? null}
        onChoose={setRoomId}
        choices={openRooms(facts).map((room) => ({
          id: room.id,
          words: room.name,
          detail: roomDegrees(facts, room, now),
        }))}
      />
      {roomId !== undefined &&
        [...new Set(atHand.coats.map((coat) => coat.sheetId))]
          .flatMap((id) => labelOfNextCoat(facts, id, roomId, now))
          .map((sentence) => <p key={sentence}>{sentence}</p>)}
      <PotField choices={pots} chosen={potId} onChoose={setPot} />
      <CheckField
        label="It was scuffed first"
        note="Where the film below asks for it, an unscuffed coat is refused."
        isChecked={isScuffed}
        onChange={setScuffed}
      />
      <WhenField
        label="Finished"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <NumberField
        label="It took"
        unit="min"
        glove
        minValue={1}
        maxValue={720}
        value={tookMin}
        onChange={setTook}
        note="From the first stroke to the last. The film counts from the last."
        error={missing(Number.isNaN(tookMin), "Say how long it took.")}
      />
      <Cautions cautions={coatCautions(facts, atHand)} air={airWords(facts, atHand)} />
      <NumberField
        label="Wet film, if measured"
        unit="µm"
        glove
        minValue={1}
        maxValue={3000}
        value={wetFilmMicrometres}
        onChange={setWetFilm}
      />
      <SeveralField
        label="Who laid it"
        chosen={by}
        onChoose={setBy}
        choices={people.map((member) => ({ id: member.id, words: member.name }))}
        error={missing(by.length === 0, "Say who laid it.")}
      />
      <Key kind="main" glove wide onPress={() => void log()}>
        Log the coat
      </Key>
    </ActSheet>
  );
}
