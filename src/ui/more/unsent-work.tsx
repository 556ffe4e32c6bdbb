"use client";
import { useId, useState } from "react";
import { useDevice, useFloor, usePending } from "~/device/react";
import { readUnsentFile, type UnsentNotes, unsentFileOf } from "~/device/unsent-file";
import { putNotesBack, unsentNotesHere } from "~/device/unsent-notes";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { actWords } from "./act-words";
import { notKeptWords, notReadableWords } from "./not-kept-words";

/** Saved by the browser as a file of its own, for carrying it away by hand. */
function saveAsFile(file: File): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name;
  link.click();
  URL.revokeObjectURL(address);
}

/** This device keeps nothing: what is at stake, and the ways out. */
export function NotKeptHere() {
  const store = useDevice();
  const { queue } = store;
  const { notKept, lost } = usePending();
  const keep = async () => {
    if ((await queue.keepLost()).ok) await store.wake();
  };
  if (!notKept && lost.length === 0) return null;
  const { title, sentence } = notKeptWords[notKept?.because ?? "store-failed"];
  return (
    <Notice
      kind="stuck"
      title={notKept ? title : "Something is not kept yet"}
      keys={
        lost.length > 0 && (
          <>
            <Key kind="main" glove onPress={() => void keep()}>
              Keep it now
            </Key>
            <Key kind="take-back" glove onPress={() => queue.forgetLost()}>
              Forget it
            </Key>
          </>
        )
      }
    >
      {lost.length > 0 && (
        <>
          <p>Not kept, and gone when this page is closed. Do not do it a second time:</p>
          <ul>
            {lost.map(({ intent }) => (
              <li key={intent.intentId}>{actWords[intent.kind] ?? intent.kind.replaceAll("-", " ")}</li>
            ))}
          </ul>
        </>
      )}
      <p>{notKept ? sentence : "There may be room again: press “Keep it now”."}</p>
    </Notice>
  );
}

type Heard = { error: string } | { kept: number; notesBack: number; notesToCopy: UnsentNotes[] };

/** Unsent work as a file: out of this device, and into it. */
export function UnsentFiles() {
  const store = useDevice();
  const { waiting, lost } = usePending();
  const [heard, setHeard] = useState<Heard>();
  const fileId = useId();
  const { owner } = store.queue;

  const save = async () => {
    // a store that has failed gives no notes; what this page itself holds is saved all the same
    const notes = await unsentNotesHere(owner.shopId).catch(() => []);
    const day = new Date(store.clock.now()).toISOString().slice(0, 10);
    saveAsFile(unsentFileOf(owner, { intents: [...waiting, ...lost], notes }, day));
  };
  const read = async (file: File | undefined) => {
    if (!file) return;
    const found = readUnsentFile(await file.text(), owner);
    if (!found.ok) return setHeard({ error: notReadableWords(found.refusal) });
    const { intents, notes, isFromHere } = found.value;
    const kept = await store.keepSaved(intents);
    if (!kept.ok) return setHeard({ error: notKeptWords[kept.refusal.because].sentence });
    if (isFromHere) for (const one of notes) await putNotesBack(owner.shopId, one);
    setHeard({ kept: kept.value, notesBack: isFromHere ? notes.length : 0, notesToCopy: isFromHere ? [] : notes });
    void store.wake();
  };

  return (
    <div className="more-body">
      <p className="why">
        A file holds what is not sent, words in notes too. Read it in on this or another device of yours: nothing is
        counted twice.
      </p>
      <Keys>
        <Key glove onPress={() => void save()}>
          Save as a file
        </Key>
      </Keys>
      <div className="field">
        <label htmlFor={fileId}>Read a saved file in</label>
        <input
          id={fileId}
          className="field-box"
          type="file"
          accept=".json,application/json"
          onChange={(event) => void read(event.target.files?.[0])}
        />
      </div>
      {heard && <WasRead heard={heard} />}
    </div>
  );
}

function WasRead({ heard }: { heard: Heard }) {
  const facts = useFloor((floor) => floor);
  if ("error" in heard)
    return (
      <Notice kind="stuck" title="Nothing was read in">
        <p role="alert">{heard.error}</p>
      </Notice>
    );
  const { kept, notesBack, notesToCopy } = heard;
  return (
    <>
      <p role="status">
        {kept === 0 ? "Everything in it was here already." : `${kept} kept here, on the way to the shop.`}
        {notesBack > 0 && " The words in notes are back in their places."}
      </p>
      {notesToCopy.map(({ pieceId, condition, journal }) => (
        <Notice key={pieceId} kind="device" title={`Notes of ${facts.get("piece", pieceId)?.number ?? "a piece"}`}>
          <p>
            They were written on another device, which sends its words itself. If it never will, copy what is missing:
          </p>
          {condition !== "" && <blockquote className="saved-words">{condition}</blockquote>}
          {journal !== "" && <blockquote className="saved-words">{journal}</blockquote>}
        </Notice>
      ))}
    </>
  );
}
