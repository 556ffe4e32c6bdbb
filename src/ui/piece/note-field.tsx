"use client";
import { useId, useLayoutEffect, useRef } from "react";
import { caretAfter } from "./caret";

type NoteFieldProps = {
  label: string;
  text: string;
  /** Most characters of one piece’s notes. */
  longest: number;
  isReadOnly: boolean;
  onWrite: (wanted: string) => void;
};

/** A text that others may write in at the same time. Their words move neither the caret nor what is selected. */
export function NoteField({ label, text, longest, isReadOnly, onWrite }: NoteFieldProps) {
  const id = useId();
  const area = useRef<HTMLTextAreaElement>(null);
  /** The text and the selection of the last time that the person here did anything in it. */
  const last = useRef({ text, start: 0, end: 0 });

  const remember = () => {
    const { current: box } = area;
    if (box) last.current = { text: box.value, start: box.selectionStart, end: box.selectionEnd };
  };

  useLayoutEffect(() => {
    const { current: box } = area;
    const { text: was, start, end } = last.current;
    if (!box || was === text) return;
    last.current = { text, start: caretAfter(was, text, start), end: caretAfter(was, text, end) };
    if (document.activeElement === box) box.setSelectionRange(last.current.start, last.current.end);
  }, [text]);

  return (
    <div className="note-field">
      <label htmlFor={id}>{label}</label>
      <textarea
        id={id}
        ref={area}
        className="field-box"
        rows={6}
        maxLength={longest}
        readOnly={isReadOnly}
        value={text}
        onSelect={remember}
        onChange={(event) => {
          remember();
          onWrite(event.target.value);
        }}
      />
    </div>
  );
}
