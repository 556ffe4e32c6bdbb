"use client";
import { useState } from "react";
import { measureOf } from "~/core/cure/test-subject";
import type { TestKind } from "~/core/shop/entities/tests";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { pictureHere } from "../picture-here";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { usePieceAct } from "./piece-act";
import { isAboutOldPaint, resultChoices, type TestResult, testChoices, testHow } from "./test-kinds";
import { measureFound } from "./test-measure";
import { TestPatchFields } from "./test-patch-fields";
import { patchBarriers, patchProducts, subjectChoices, type TestSubject } from "./test-subjects";
import { justNow, whenTyped } from "./typed-when";
import { WhenField } from "./when-field";

export type TestSheetProps = PieceSheetProps & {
  /** What is likely to be tested, where the screen knows. */
  firstKind?: TestKind;
  surfaceId?: string;
  pairId?: string;
  jointId?: string;
};

/** A hand on the piece: which test, on what, and what it said. It outranks the clock, in both directions. */
export function TestSheet({ pieceId, onClose, firstKind, surfaceId, pairId, jointId }: TestSheetProps) {
  const { facts, piece, zone, now, today, newId, head, send } = usePieceAct(pieceId);
  const [kind, setKind] = useState(firstKind);
  const [subject, setSubject] = useState(jointId ?? pairId ?? surfaceId);
  const [layer, setLayer] = useState("");
  const [patch, setPatch] = useState<{ productId?: string; barrierId?: string }>({});
  const [resultChosen, setResult] = useState<TestResult>();
  const [value, setValue] = useState(Number.NaN);
  const [note, setNote] = useState("");
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;

  const surfaces = facts.where("surface", "pieceId", pieceId);
  const hasJoints = facts.where("joint", "pieceId", pieceId).length > 0;
  const subjects = subjectChoices(facts, pieceId, kind);
  const chosen = subjects.find(({ id }) => id === subject) ?? (subjects.length === 1 ? subjects[0] : undefined);
  const isPaint = isAboutOldPaint(kind);
  const typed = whenTyped(when, now, zone);

  const measure = kind && measureOf(kind);
  const onScale = measure && !Number.isNaN(value) && value >= measure.bounds.min && value <= measure.bounds.max;
  const wood = chosen?.told.of === "washed" ? facts.get("surface", chosen.told.surfaceId) : undefined;
  const picture = measure && pictureHere(facts, pieceId);
  const isMeasure = kind === "moisture-meter" || kind === "weight";
  const readAt = typed.ok && typed.value.at !== undefined ? typed.value.at : now;
  const found = isMeasure && onScale && wood && picture ? measureFound(picture, wood, kind, value, readAt) : undefined;
  const said = resultChoices(kind).find(({ id }) => id === resultChosen)?.id;
  const result = measure ? (onScale ? (found?.result ?? "unclear") : undefined) : said;

  const patchFace = kind === "bleed-patch" && chosen?.told.of === "surface" ? chosen.told.surfaceId : undefined;
  const products = patchFace ? patchProducts(facts, patchFace) : [];
  const productId = patch.productId ?? products[0]?.id;

  const subjectTold = (): TestSubject | undefined => {
    if (isPaint) return layer.trim() === "" ? undefined : { of: "paint-layer", layer };
    if (patchFace === undefined || productId === undefined) return chosen?.told;
    const barrier = patch.barrierId === undefined ? {} : { barrierProductId: patch.barrierId };
    return { of: "patch", surfaceId: patchFace, productId, ...barrier };
  };

  const record = async () => {
    setPressed(true);
    const about = subjectTold();
    if (!kind || !result || !about || !typed.ok) return;
    const body = {
      testId: newId(),
      pieceId,
      subject: about,
      kind,
      result,
      ...(measure && { measured: { value, unit: measure.unit } }),
      ...(note.trim() !== "" && { note }),
    };
    if (await send("record-test", body, { said: "The test is written down.", happenedAt: typed.value.at })) onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  return (
    <ActSheet title="Record a test" {...head} onClose={onClose}>
      <ChoiceField
        label="Test"
        glove
        chosen={kind ?? null}
        onChoose={setKind}
        choices={testChoices(piece, surfaces.length > 0, hasJoints)}
        note={kind && testHow[kind]}
        error={missing(!kind, "Choose the test.")}
      />
      {isPaint && (
        <TextField
          label="Layer"
          glove
          value={layer}
          onChange={setLayer}
          maxLength={40}
          note="One test a layer: top, second, primer."
          error={missing(layer.trim() === "", "Say which layer of paint.")}
        />
      )}
      {!isPaint && subjects.length > 1 && (
        <ChoiceField
          label="On what"
          glove
          chosen={chosen?.id ?? null}
          onChoose={setSubject}
          choices={subjects}
          error={missing(chosen === undefined, "Choose what was tested.")}
        />
      )}
      {patchFace !== undefined && (
        <TestPatchFields
          products={products}
          barriers={patchBarriers(facts)}
          productId={productId}
          barrierId={patch.barrierId}
          onProduct={(id) => setPatch({ ...patch, productId: id })}
          onBarrier={(barrierId) => setPatch({ ...patch, barrierId })}
        />
      )}
      {measure ? (
        <NumberField
          label={kind === "weight" ? "Weight" : "The meter shows"}
          glove
          unit={measure.bounds.unit}
          value={value}
          onChange={setValue}
          formatOptions={{ maximumFractionDigits: measure.bounds.decimals }}
          note={found?.words}
          error={missing(
            !onScale,
            `Write the number, ${measure.bounds.min} to ${measure.bounds.max} ${measure.bounds.unit}.`,
          )}
        />
      ) : (
        <RadioField
          label="Result"
          glove
          chosen={result ?? null}
          onChoose={setResult}
          choices={resultChoices(kind)}
          error={missing(!result, "Say what it showed.")}
        />
      )}
      <TextField label="Note" glove value={note} onChange={setNote} lines={2} maxLength={300} />
      <WhenField
        label="When"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void record()}>
        Record the test
      </Key>
    </ActSheet>
  );
}
