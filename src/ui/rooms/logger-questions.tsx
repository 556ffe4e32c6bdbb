"use client";
import type { LoggerAnswers, LoggerQuestion } from "~/core/climate/logger-csv/answers";
import type { LoggerColumn } from "~/core/climate/logger-csv/columns";
import { RadioField } from "../kit/radio-field";
import { asked } from "./logger-words";

type LoggerQuestionsProps = {
  questions: readonly LoggerQuestion[];
  columns: readonly LoggerColumn[];
  onAnswer: (answer: Partial<LoggerAnswers>) => void;
};

/** What the file does not say by itself, with what is likely chosen already. */
export function LoggerQuestions({ questions, columns, onAnswer }: LoggerQuestionsProps) {
  return questions.map((question) => {
    const { about, label, note, choices, suggestedId, answerOf } = asked(question, columns);
    return (
      <RadioField
        key={about}
        label={label}
        note={note}
        choices={choices}
        firstChosen={suggestedId}
        onChoose={(id) => onAnswer(answerOf(id))}
      />
    );
  });
}
