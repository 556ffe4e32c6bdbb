"use client";
import type { ClockDoubt } from "~/core/climate/logger-csv/clock-doubt";
import { Notice } from "../kit/notice";
import { RadioField } from "../kit/radio-field";
import { clockDoubtWords } from "./clock-doubt-words";

type LoggerClockProps = {
  doubt: ClockDoubt;
  zone: string;
  /** What was answered, in minutes to add; 0 for a clock that is right. */
  shiftMin: number | undefined;
  onAnswer: (shiftMin: number) => void;
};

/** A clock that does not seem right, and what to do about it: neither answer is chosen beforehand. */
export function LoggerClock({ doubt, zone, shiftMin, onAnswer }: LoggerClockProps) {
  const { title, found, set, keep } = clockDoubtWords(doubt, zone);
  return (
    <Notice kind="person" title={title}>
      <p>{found}</p>
      <RadioField
        label="The times of this file"
        note="Nothing is taken in before you have said which."
        glove
        choices={[
          { id: "set", words: set },
          { id: "keep", words: keep },
        ]}
        chosen={shiftMin === undefined ? null : shiftMin === 0 ? "keep" : "set"}
        onChoose={(id) => onAnswer(id === "set" ? doubt.shiftMin : 0)}
      />
    </Notice>
  );
}
