"use client";
import { useState } from "react";
import { wallTimeAt } from "~/core/calendar";
import { earliestHonest } from "~/core/cure/next-gate";
import type { PromiseMade } from "~/core/shop/tables";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { pictureHere } from "../picture-here";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { usePieceAct } from "./piece-act";
import { dueWords, honestWords, promiseSortWords, promiseStanding, toWhomWords } from "./promise-words";
import { clockDigits } from "./typed-when";

type Sort = PromiseMade["sort"];
type ToWhom = PromiseMade["toWhom"];
const sorts = Object.entries(promiseSortWords).map(([id, words]) => ({ id: id as Sort, words }));
const people = Object.entries(toWhomWords).map(([id, words]) => ({ id: id as ToWhom, words }));

/** A date given to somebody: made, moved or dropped, with the earliest honest one beside it. */
export function PromiseSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, newId, head, send } = usePieceAct(pieceId);
  const live = facts.where("promise", "pieceId", pieceId).filter((promise) => promise.state === "made");
  const [moving, setMoving] = useState<PromiseMade>();
  const [isAdding, setAdding] = useState(live.length === 0);
  const [sort, setSort] = useState<Sort>();
  const [toWhom, setToWhom] = useState<ToWhom>("buyer");
  const [day, setDay] = useState("");
  const [time, setTime] = useState("");
  const [why, setWhy] = useState("");
  const [isKnowing, setKnowing] = useState(false);
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;

  const picture = pictureHere(facts, pieceId);
  const about = moving?.sort ?? sort;
  const honest = picture && about && earliestHonest(picture, about, now);
  const found = time.trim() === "" ? undefined : wallTimeAt(day, clockDigits(time), zone);
  const due = found === undefined ? (day === "" ? undefined : { day }) : found.ok ? { at: found.value.at } : undefined;
  const needsWhy = moving !== undefined || isKnowing;

  const give = async () => {
    setPressed(true);
    if (!about || !due || (needsWhy && why.trim() === "")) return;
    const said = { due, ...(isKnowing && { knowingly: true }), ...(why.trim() !== "" && { why }) };
    const [kind, body] = moving
      ? ["move-promise", { promiseId: moving.id, newPromiseId: newId(), was: moving.dueAt, ...said }]
      : ["promise", { promiseId: newId(), pieceId, sort, toWhom, ...said }];
    const isKept = await send(kind as string, body, {
      said: "The date is on the board.",
      instead: (refusal, close) =>
        refusal.kind === "promise-too-early" && (
          <Key
            glove
            wide
            kind="take-back"
            onPress={() => {
              close();
              setKnowing(true);
            }}
          >
            Promise it all the same, and say why
          </Key>
        ),
    });
    if (isKept) onClose();
  };

  const end = async (kind: "drop-promise" | "keep-promise", promise: PromiseMade) => {
    setPressed(true);
    if (kind === "drop-promise" && why.trim() === "") return;
    const body = { promiseId: promise.id, ...(kind === "drop-promise" && { why }) };
    if (await send(kind, body, { said: kind === "keep-promise" ? "Promise kept." : "The promise is dropped." }))
      onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  return (
    <ActSheet title="Promise" {...head} onClose={onClose}>
      {!moving &&
        live.map((promise) => {
          const standing = promiseStanding(promise, picture, now, zone);
          return (
            <Notice
              key={promise.id}
              kind={standing.isAtRisk ? "person" : "plain"}
              title={standing.text}
              keys={
                <>
                  <Key onPress={() => setMoving(promise)}>Move it</Key>
                  <Key onPress={() => void end("keep-promise", promise)}>It is kept</Key>
                </>
              }
            />
          );
        })}
      {!moving && !isAdding && <Key onPress={() => setAdding(true)}>Promise something else</Key>}
      {(moving || isAdding) && (
        <>
          {moving ? (
            <p>
              {promiseSortWords[moving.sort]}, now {dueWords(moving, now, zone)}.
            </p>
          ) : (
            <>
              <RadioField
                label="What is promised"
                glove
                chosen={sort ?? null}
                onChoose={setSort}
                choices={sorts}
                error={missing(!sort, "Choose what is promised.")}
              />
              <RadioField label="To" glove chosen={toWhom} onChoose={setToWhom} choices={people} />
            </>
          )}
          {honest && <p className="sentence">{honestWords(honest, now, zone)}</p>}
          <TextField
            label="Day"
            type="date"
            glove
            value={day}
            onChange={setDay}
            error={missing(day === "", "Choose the day.")}
          />
          <TextField
            label="Hour, if one was named"
            glove
            inputMode="numeric"
            maxLength={5}
            value={time}
            onChange={setTime}
            note="Without an hour it is due when that day is over."
            error={found && !found.ok ? "Write the hour as on the shop wall, 10:00." : undefined}
          />
          <TextField
            label={needsWhy ? "Why" : "Note"}
            glove
            lines={2}
            maxLength={300}
            value={why}
            onChange={setWhy}
            error={missing(needsWhy && why.trim() === "", "Say why: it stands beside the date.")}
          />
          <Keys lay="stack">
            <Key kind="main" glove wide onPress={() => void give()}>
              {moving ? "Move the promise" : isKnowing ? "Promise it, early as it is" : "Promise it"}
            </Key>
            {moving && (
              <Key kind="take-back" glove wide onPress={() => void end("drop-promise", moving)}>
                Drop the promise
              </Key>
            )}
          </Keys>
        </>
      )}
    </ActSheet>
  );
}
