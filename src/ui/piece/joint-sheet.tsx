"use client";
import { useState } from "react";
import { gluePlace } from "~/core/cure/joint-place";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Joint, Room, Sheet } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { GateSaidNo } from "~/ui/floor/acts/gate-said-no";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { justNow, whenTyped } from "~/ui/floor/acts/typed-when";
import { WhenField } from "~/ui/floor/acts/when-field";
import { openRooms, roomDegrees } from "~/ui/floor/room-air";
import { celsius } from "~/ui/format";
import { CheckField } from "~/ui/kit/check-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";

export type JointSheetProps = PieceSheetProps & {
  /** The joint that failed: the new gluing has its name. */
  again?: Joint;
};

const squeezes: { id: Joint["squeeze"]; words: string }[] = [
  { id: "clamped", words: "Clamped" },
  { id: "taped", words: "Taped" },
  { id: "none", words: "Nothing" },
];
const noTask = "none";

/** The newest sheet of every glue in use. */
const glueSheets = (facts: Facts): { sheet: Sheet; name: string }[] =>
  facts
    .all("product")
    .filter(({ family, retiredAt }) => family === "glue" && retiredAt === undefined)
    .flatMap((product) => {
      const [sheet] = facts
        .where("sheet", "productId", product.id)
        .toSorted((one, other) => other.version - one.version);
      return sheet ? [{ sheet, name: product.name }] : [];
    });

/** "18 °C, warm enough" or "9 °C, too cold": what the rule will say, before it is asked. */
const roomDetail = (facts: Facts, sheet: Sheet | undefined, room: Room, now: InstantMs): string | undefined => {
  const degrees = roomDegrees(facts, room, now);
  if (!sheet || degrees === undefined) return degrees;
  try {
    const place = gluePlace(sheet, facts.air(room.id, now), now);
    if (place.state === "fit") return `${degrees}, warm enough for a day`;
    if (place.state === "unread") return `${degrees}, read too long ago`;
    return `too cold: ${celsius(Math.round(place.lowestCelsius * 10) / 10)}, needs ${celsius(place.leastCelsius)}`;
  } catch (error) {
    if (error instanceof CannotTellHere) return degrees;
    throw error;
  }
};

/** Glued: what, with which glue, where. The rooms say beforehand whether they are warm enough. */
export function JointSheet({ pieceId, again, onClose }: JointSheetProps) {
  const { facts, piece, zone, now, today, newId, head, send } = usePieceAct(pieceId);
  const glues = glueSheets(facts);
  const [name, setName] = useState(again?.name ?? "");
  const [sheetChosen, setSheetId] = useState<string>();
  const [roomId, setRoomId] = useState(piece?.roomId);
  const [squeeze, setSqueeze] = useState<Joint["squeeze"]>("clamped");
  const [isStressed, setStressed] = useState(again?.isStressed ?? false);
  const [when, setWhen] = useState(() => justNow(today));
  const gluings = facts
    .where("task", "pieceId", pieceId)
    .filter(({ state, methods }) => (state === "open" || state === "held") && methods.includes("glue"));
  const [taskId, setTaskId] = useState(
    gluings.find((task) => task.jointId !== undefined && task.jointId === again?.id)?.id ??
      (gluings.length === 1 ? gluings[0]?.id : undefined) ??
      noTask,
  );
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;
  const chosen = glues.find(({ sheet }) => sheet.id === sheetChosen) ?? (glues.length === 1 ? glues[0] : undefined);

  const log = async (stance: "asking" | "done") => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (name.trim() === "" || !chosen || !roomId || !typed.ok) return;
    const body = {
      jointId: newId(),
      pieceId,
      name,
      sheetId: chosen.sheet.id,
      roomId,
      squeeze,
      isStressed,
      ...(taskId !== noTask && { taskId }),
      stance,
    };
    const isKept = await send("log-joint", body, {
      said: `${name}: glued.`,
      happenedAt: typed.value.at,
      instead: (refusal, close) => <GateSaidNo refusal={refusal} close={close} onDone={() => void log("done")} />,
    });
    if (isKept) onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  if (glues.length === 0)
    return (
      <ActSheet title="Log a joint" {...head} onClose={onClose}>
        <p>No glue stands on the shelf yet. Add the one in your hand, with the times on its label.</p>
        <Key kind="main" glove wide href="/shelf">
          To the shelf
        </Key>
      </ActSheet>
    );
  return (
    <ActSheet title={again ? "Glue it again" : "Log a joint"} {...head} onClose={onClose}>
      {again ? (
        <p>
          <b>{again.name}</b>: knocked apart, scraped to the wood. Glue does not stick to old glue.
        </p>
      ) : (
        <TextField
          label="Which joint"
          glove
          value={name}
          onChange={setName}
          maxLength={40}
          note="As you would say it: seat rails, chair 3."
          error={missing(name.trim() === "", "Name the joint.")}
        />
      )}
      {glues.length > 1 && (
        <ChoiceField
          label="Glue"
          glove
          chosen={chosen?.sheet.id ?? null}
          onChoose={setSheetId}
          choices={glues.map((glue) => ({ id: glue.sheet.id, words: glue.name }))}
          error={missing(!chosen, "Choose the glue.")}
        />
      )}
      <ChoiceField
        label="Where"
        glove
        chosen={roomId ?? null}
        onChoose={setRoomId}
        choices={openRooms(facts).map((room) => ({
          id: room.id,
          words: room.name,
          detail: roomDetail(facts, chosen?.sheet, room, now),
        }))}
        note="It stays there, warm, until the piece is carried."
        error={missing(!roomId, "Choose the room.")}
      />
      <RadioField label="Squeezed how" glove chosen={squeeze} onChoose={setSqueeze} choices={squeezes} />
      <CheckField
        label="It is under stress"
        note="It carries weight or springs back: clamps stay on for as long as the shop says."
        isChecked={isStressed}
        onChange={setStressed}
      />
      {gluings.length > 0 && (
        <ChoiceField
          label="It was this task"
          glove
          chosen={taskId}
          onChoose={setTaskId}
          choices={[
            { id: noTask, words: "None of the board’s" },
            ...gluings.map((task) => ({ id: task.id, words: task.title })),
          ]}
          note="Should the joint fail, that work is open again."
        />
      )}
      <WhenField
        label="Glued"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void log("asking")}>
        {again ? "Glued again" : "Log the joint"}
      </Key>
    </ActSheet>
  );
}
