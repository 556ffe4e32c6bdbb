"use client";
import { useId, useMemo, useState } from "react";
import type { LoggerAnswers } from "~/core/climate/logger-csv/answers";
import { clockDoubt, withClockSet } from "~/core/climate/logger-csv/clock-doubt";
import { type LoggerRefusal, proposeLogger } from "~/core/climate/logger-csv/propose";
import { type LoggerReadings, readLogger } from "~/core/climate/logger-csv/read";
import type { Room } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { useDevice, useFloor } from "~/device/react";
import { dayName } from "../format";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { Sheet } from "../kit/sheet";
import { useAct } from "../shell/act";
import { useNames } from "../shell/names";
import { wordsOf } from "../wording";
import { LoggerClock } from "./logger-clock";
import { importOf, largestFileBytes, textOf } from "./logger-file";
import { LoggerPreview, rowsWords } from "./logger-preview";
import { LoggerQuestions } from "./logger-questions";
import { keepWritten } from "./written-here";

type LoggerSheetProps = { room: Room; now: InstantMs; zone: string; close: () => void };
type Picked = { name: string; text: string };

/** A climate logger's file: looked at here, asked about where it does not say, shown, and taken in whole or not at all. */
export function LoggerSheet({ room, now, zone, close }: LoggerSheetProps) {
  const act = useAct();
  const device = useDevice();
  const fileId = useId();
  const [picked, setPicked] = useState<Picked>();
  const [chosen, setChosen] = useState<Partial<LoggerAnswers>>({});
  const [error, setError] = useState<string>();
  const pick = async (file: File | undefined) => {
    setPicked(undefined);
    setChosen({});
    setError(undefined);
    if (!file) return;
    if (file.size > largestFileBytes)
      return setError("This file is larger than 200,000 rows of readings can be. Split it by years.");
    setPicked({ name: file.name, text: textOf(new Uint8Array(await file.arrayBuffer())) });
  };
  const takeIn = async ({ rows, fromAt, toAt }: LoggerReadings, shiftMin: number) => {
    const proposed = await act("import-readings", importOf(room.id, rows), {
      said: `${rows.length} readings taken in.`,
    });
    if (proposed.state === "refused") return;
    const set = shiftMin === 0 ? "" : `, clock set ${shiftMin > 0 ? "on" : "back"} by ${Math.abs(shiftMin) / 60} h`;
    const words = `${rows.length} readings of ${dayName(fromAt, zone)} to ${dayName(toAt, zone)}${set}`;
    if (proposed.state === "kept")
      keepWritten({ kind: "import", id: proposed.intent.intentId, roomId: room.id, words, at: device.clock.now() });
    close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Logger’s file: ${room.name}`}>
      <div className="field">
        <label htmlFor={fileId}>File with times, temperature and humidity</label>
        <input
          id={fileId}
          className="field-box"
          type="file"
          accept=".csv,.txt,.tsv,text/*"
          onChange={(event) => void pick(event.target.files?.[0])}
        />
        <p className="field-note">Nothing is written down before you have seen what was read.</p>
      </div>
      {error !== undefined && (
        <Notice kind="stuck" title="Too large">
          {error}
        </Notice>
      )}
      {picked && (
        <Looked
          key={picked.name}
          room={room}
          text={picked.text}
          zone={zone}
          now={now}
          chosen={chosen}
          onAnswer={(answer) => setChosen({ ...chosen, ...answer })}
          takeIn={takeIn}
        />
      )}
    </Sheet>
  );
}

type LookedProps = {
  room: Room;
  text: string;
  zone: string;
  now: InstantMs;
  chosen: Partial<LoggerAnswers>;
  onAnswer: (answer: Partial<LoggerAnswers>) => void;
  takeIn: (readings: LoggerReadings, shiftMin: number) => Promise<void>;
};

function Looked({ room, text, zone, now, chosen, onAnswer, takeIn }: LookedProps) {
  // the questions stay in sight after they are answered, so that an answer can be changed
  const all = useMemo(() => proposeLogger(text, zone), [text, zone]);
  const proposal = useMemo(() => proposeLogger(text, zone, chosen), [text, zone, chosen]);
  const read = useMemo(() => {
    if (!proposal.ok) return undefined;
    const { dateOrder, ...answers } = proposal.value.answers;
    return dateOrder && readLogger(text, { ...answers, dateOrder });
  }, [proposal, text]);
  if (!all.ok) return <Unreadable refusal={all.refusal} now={now} zone={zone} />;
  return (
    <>
      <LoggerQuestions questions={all.value.questions} columns={all.value.columns} onAnswer={onAnswer} />
      {!proposal.ok && <Unreadable refusal={proposal.refusal} now={now} zone={zone} />}
      {proposal.ok && !read && <p>Answer the question above; then it can be read.</p>}
      {read && !read.ok && <Unreadable refusal={read.refusal} now={now} zone={zone} />}
      {read?.ok && <Readable room={room} readings={read.value} zone={zone} now={now} takeIn={takeIn} />}
    </>
  );
}

type ReadableProps = Pick<LookedProps, "room" | "zone" | "now" | "takeIn"> & { readings: LoggerReadings };

function Readable({ room, readings, zone, now, takeIn }: ReadableProps) {
  const air = useFloor((facts) => facts.air(room.id, now));
  const doubt = useMemo(() => clockDoubt(readings.rows, air.readings, zone, now), [readings, air, zone, now]);
  // an answer belongs to the doubt that it answers: another reading of the file asks again
  const [answered, setAnswered] = useState<{ of: LoggerReadings; shiftMin: number }>();
  const shiftMin = answered?.of === readings ? answered.shiftMin : doubt ? undefined : 0;
  const { readings: set, rowsToCome } = useMemo(
    () => withClockSet(readings, shiftMin ?? 0, now),
    [readings, shiftMin, now],
  );
  const leftOut = readings.badRowCount + rowsToCome;
  return (
    <>
      {doubt && (
        <LoggerClock
          doubt={doubt}
          zone={zone}
          shiftMin={shiftMin}
          onAnswer={(chosenMin) => setAnswered({ of: readings, shiftMin: chosenMin })}
        />
      )}
      <LoggerPreview readings={set} rowsToCome={rowsToCome} zone={zone} />
      {shiftMin === undefined ? (
        <p>Answer the question about its clock above; then it can be taken in.</p>
      ) : set.rows.length === 0 ? (
        <p>Every row of this file is still to come. Set its clock back, or look at the date on the logger.</p>
      ) : (
        <Key kind="main" glove wide onPress={() => void takeIn(set, shiftMin)}>
          {leftOut === 0
            ? `Take in ${set.rows.length} readings`
            : `Take in ${set.rows.length}, leave ${rowsWords(leftOut)} out`}
        </Key>
      )}
    </>
  );
}

function Unreadable({ refusal, now, zone }: { refusal: LoggerRefusal; now: InstantMs; zone: string }) {
  const names = useNames();
  if (refusal.kind === "import-empty") {
    return (
      <Notice kind="stuck" title="No readings in this file">
        No row has a time, a temperature and a humidity. Take the logger’s own export as text or CSV.
      </Notice>
    );
  }
  if (refusal.kind === "malformed") {
    return (
      <Notice kind="stuck" title="Something is missing in this file">
        There is no {refusal.expected} for the {refusal.field}. Take an export that has it.
      </Notice>
    );
  }
  const { title, found, instead } = wordsOf(refusal, { names, now, zone });
  return (
    <Notice kind="stuck" title={title}>
      {found} {instead}
    </Notice>
  );
}
