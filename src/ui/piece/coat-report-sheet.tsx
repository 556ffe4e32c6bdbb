"use client";
import { useState } from "react";
import { flaws } from "~/core/shop/intents/coats";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { justNow, whenTyped } from "~/ui/floor/acts/typed-when";
import { WhenField } from "~/ui/floor/acts/when-field";
import { pictureHere } from "~/ui/floor/picture-here";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { labelOfCoat } from "./label-here-view";

type Report = "log-wiped" | "report-flaw" | "log-mend" | "report-removed";
type How = "sanded" | "stripped" | "wiped-off";
type Flaw = (typeof flaws)[number];

const flawWords: Record<Flaw, string> = {
  bleed: "Bleeding through",
  wrinkle: "Wrinkled",
  blush: "Blushed, milky",
  run: "A run",
  dust: "Dust in it",
  "fish-eye": "Fish-eyes, craters",
  soft: "Still soft",
  print: "A print in it",
};
const keyWords: Record<Report, string> = {
  "log-wiped": "Wiped back",
  "report-flaw": "Report the flaw",
  "log-mend": "It is mended",
  "report-removed": "It is off",
};

type CoatReportSheetProps = { pieceId: string; coatId: string; onClose: () => void };

/** What became of a coat that went on: wiped, flawed, mended, taken off. */
export function CoatReportSheet({ pieceId, coatId, onClose }: CoatReportSheetProps) {
  const { facts, zone, now, today, head, send } = usePieceAct(pieceId);
  const coat = facts.get("coat", coatId);
  const sheet = coat && facts.get("sheet", coat.sheetId);
  const isToWipe = sheet?.wipeFromMin !== undefined && !coat?.wiped;
  const isFlawed = coat?.state === "flawed";
  const [report, setReport] = useState<Report>(isToWipe ? "log-wiped" : isFlawed ? "log-mend" : "report-flaw");
  const [cause, setCause] = useState<Flaw>();
  const [how, setHow] = useState<How>("sanded");
  const [words, setWords] = useState("");
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  if (!coat) return null;

  const picture = pictureHere(facts, pieceId);
  const needsWords = report === "log-mend" || report === "report-removed";
  const tell = async () => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (!typed.ok || (report === "report-flaw" && !cause) || (needsWords && words.trim() === "")) return;
    const more = {
      "log-wiped": {},
      "report-flaw": { cause },
      "log-mend": { mend: words.trim() },
      "report-removed": { how, why: words.trim() },
    }[report];
    if (await send(report, { coatId, ...more }, { said: keyWords[report], happenedAt: typed.value.at })) onClose();
  };

  return (
    <ActSheet
      title={`Coat ${coat.position}, ${sheet ? facts.get("product", sheet.productId)?.name : "a product"}`}
      {...head}
      onClose={onClose}
    >
      {picture && labelOfCoat(picture, coatId, now).map((sentence) => <p key={sentence}>{sentence}</p>)}
      <RadioField
        label="What became of it"
        glove
        chosen={report}
        onChoose={setReport}
        choices={[
          ...(isToWipe ? [{ id: "log-wiped" as const, words: "It is wiped back" }] : []),
          { id: "report-flaw" as const, words: "It has a flaw" },
          ...(isFlawed ? [{ id: "log-mend" as const, words: "The flaw is mended" }] : []),
          { id: "report-removed" as const, words: "It was taken off" },
        ]}
      />
      {report === "report-flaw" && (
        <ChoiceField
          label="Which flaw"
          glove
          choices={flaws.map((id) => ({ id, words: flawWords[id] }))}
          chosen={cause ?? null}
          onChoose={setCause}
          error={isPressed && !cause ? "Say what is wrong with it." : undefined}
        />
      )}
      {report === "report-removed" && (
        <RadioField
          label="How"
          glove
          chosen={how}
          onChoose={setHow}
          choices={[
            { id: "sanded", words: "Sanded off" },
            { id: "stripped", words: "Stripped off" },
            { id: "wiped-off", words: "Wiped off" },
          ]}
        />
      )}
      {needsWords && (
        <TextField
          label={report === "log-mend" ? "How it was mended" : "Why"}
          glove
          lines={2}
          maxLength={300}
          value={words}
          onChange={setWords}
          error={isPressed && words.trim() === "" ? "A few words for whoever comes next." : undefined}
        />
      )}
      <WhenField
        label="When"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void tell()}>
        {keyWords[report]}
      </Key>
    </ActSheet>
  );
}
