"use client";
import type { Member } from "~/core/shop/tables";
import { limits } from "~/core/wire-limits";
import { type NotesHere, useNotes } from "~/device/react";
import { markOf } from "~/ui/floor/strip-view";
import { Key, Keys } from "~/ui/kit/key";
import { MemberMark } from "~/ui/kit/member-mark";
import { Notice } from "~/ui/kit/notice";
import { Tape } from "~/ui/kit/tape";
import { listed } from "~/ui/trade-words";
import { NoteField } from "./note-field";
import { PiecePart } from "./piece-part";

type NotesPartProps = {
  pieceId: string;
  /** The others who look at this piece just now. */
  beside: readonly Member[];
  mayWrite: boolean;
};

/** Condition and journal, written together; also without signal, and merged when it is back. */
export function NotesPart({ pieceId, beside, mayWrite }: NotesPartProps) {
  const notes = useNotes(pieceId);
  return (
    <PiecePart title="Notes" aside={notes && isApart(notes) && mayWrite ? <Tape /> : undefined}>
      <p className="note-people" role="status">
        {beside.map((member) => (
          <MemberMark key={member.id} {...markOf(member)} size="small" />
        ))}
        {beside.length > 0 &&
          `${listed(beside.map((member) => member.name))} ${beside.length === 1 ? "is" : "are"} here too`}
      </p>
      {notes ? <Texts notes={notes} mayWrite={mayWrite} /> : <p role="status">Opening the notes.</p>}
    </PiecePart>
  );
}

const isApart = ({ shown }: NotesHere) => shown.connection.state === "apart";

function Texts({ notes, mayWrite }: { notes: NotesHere; mayWrite: boolean }) {
  const { condition, journal, connection } = notes.shown;
  const longest = limits.notesCharacters;
  return (
    <>
      {connection.state === "closed" && (
        <Notice kind="device" title="These notes are not shared just now">
          <p>
            {connection.because === "too-large"
              ? "They have grown too long to send. Shorten them; what is written here stays on this device."
              : "The server does not take them from this device. What is written here stays on it; copy it before you sign out."}
          </p>
        </Notice>
      )}
      <NoteField
        label="Condition"
        text={condition}
        longest={longest - journal.length}
        isReadOnly={!mayWrite}
        onWrite={(wanted) => notes.write("condition", wanted)}
      />
      <NoteField
        label="Journal"
        text={journal}
        longest={longest - condition.length}
        isReadOnly={!mayWrite}
        onWrite={(wanted) => notes.write("journal", wanted)}
      />
      {mayWrite && (
        <Keys>
          <Key kind="quiet" onPress={notes.undo}>
            Undo my last words
          </Key>
          <Key kind="quiet" onPress={notes.redo}>
            Put them back
          </Key>
        </Keys>
      )}
      <p className="why">
        {connection.state === "live"
          ? "Everybody sees each word as it is written."
          : "Kept on this device. Goes out with the next signal; words are merged, never lost."}
      </p>
    </>
  );
}
