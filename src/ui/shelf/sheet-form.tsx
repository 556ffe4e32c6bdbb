"use client";
import { useId } from "react";
import type { Family } from "~/core/shop/entities/products";
import { families } from "~/core/shop/entities/products";
import { CheckField } from "~/ui/kit/check-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { familyWords } from "~/ui/trade-words";
import type { OverLine, SheetDraft } from "./sheet-draft";
import { type FigureField, type FormSection, sectionsOf } from "./sheet-fields";
import { ruleWords } from "./sheet-view";
import { sheetFieldWords } from "./sheet-words";

export type SheetFormProps = {
  family: Family;
  draft: SheetDraft;
  onChange: (draft: SheetDraft) => void;
  /** What is wrong, by the path of the figure. */
  errors: Record<string, string>;
};

/** One form in sections, as a data sheet has them. */
export function SheetForm({ family, draft, onChange, errors }: SheetFormProps) {
  const set = (fields: Partial<SheetDraft>) => onChange({ ...draft, ...fields });
  return (
    <>
      {sectionsOf(family).map((section, index) => (
        <Section key={section.id} section={section} isOpen={index === 0 || hasError(section, errors)}>
          {section.fields.map((field) => (
            <Figure key={field.path} field={field} draft={draft} set={set} errors={errors} />
          ))}
          {section.id === "between" && (
            <CheckField
              label={sheetFieldWords("scuffAlways")}
              isChecked={draft.scuffAlways}
              onChange={(scuffAlways) => set({ scuffAlways })}
            />
          )}
          {section.id === "mix" && (
            <TextField
              label={sheetFieldWords("thinner")}
              value={draft.thinner}
              onChange={(thinner) => set({ thinner })}
              maxLength={60}
            />
          )}
          {section.id === "film" && (
            <RadioField
              label={sheetFieldWords("isOilBearing")}
              note="Rags wet with drying oil heat up by themselves. Not known counts as yes."
              choices={[
                { id: "yes", words: "Yes" },
                { id: "no", words: "No" },
                { id: "unknown", words: "Not known" },
              ]}
              chosen={draft.isOilBearing}
              onChoose={(isOilBearing) => set({ isOilBearing })}
            />
          )}
        </Section>
      ))}
      {family !== "glue" && <OverLines lines={draft.over} onChange={(over) => set({ over })} />}
    </>
  );
}

const hasError = ({ fields }: FormSection, errors: Record<string, string>) =>
  fields.some(({ path }) => path in errors || `${path}.typicalMin` in errors);

function Section({ section, isOpen, children }: { section: FormSection; isOpen: boolean; children: React.ReactNode }) {
  return (
    <details className="form-section" open={isOpen || undefined}>
      <summary>{section.words}</summary>
      <div className="form-section-body">
        {section.note !== undefined && <p className="why">{section.note}</p>}
        {children}
      </div>
    </details>
  );
}

type FigureProps = {
  field: FigureField;
  draft: SheetDraft;
  set: (fields: Partial<SheetDraft>) => void;
  errors: Record<string, string>;
};

function Figure({ field, draft, set, errors }: FigureProps) {
  const { path, unit, min, max, decimals, note, hasShortEnd, mayBeNever } = field;
  const words = path.startsWith("thinParts")
    ? path === "thinParts.product"
      ? "Mixed as: product"
      : "Mixed as: thinner"
    : sheetFieldWords(path);
  const shortPath = `${path}.typicalMin`;
  const isNever = draft.nevers.includes(path);
  const write = (at: string) => (value: number) => set({ figures: { ...draft.figures, [at]: value } });
  const formatOptions = { maximumFractionDigits: decimals };
  return (
    <div className="form-figure">
      {!isNever && (
        <div className="form-pair">
          <NumberField
            label={words}
            unit={unit}
            minValue={min}
            maxValue={max}
            formatOptions={formatOptions}
            value={draft.figures[path] ?? Number.NaN}
            onChange={write(path)}
            note={note}
            error={errors[path]}
          />
          {hasShortEnd && (
            <NumberField
              label="Short end"
              unit={unit}
              minValue={min}
              maxValue={max}
              formatOptions={formatOptions}
              value={draft.figures[shortPath] ?? Number.NaN}
              onChange={write(shortPath)}
              error={errors[shortPath]}
            />
          )}
        </div>
      )}
      {mayBeNever && (
        <CheckField
          label={`${words}: never`}
          isChecked={isNever}
          onChange={(isChecked) =>
            set({ nevers: isChecked ? [...draft.nevers, path] : draft.nevers.filter((other) => other !== path) })
          }
        />
      )}
    </div>
  );
}

type OverRule = "Y" | "S" | "D" | "B" | "T" | "N";
const overRules: { id: OverRule; words: string }[] = [
  ...(Object.keys(ruleWords) as Exclude<OverRule, "N">[]).map((id) => ({ id, words: ruleWords[id] })),
  { id: "N", words: "never" },
];
const ruleOf = (line: OverLine): OverRule => (line.isNever ? "N" : (line.rule ?? (line.barrierFamily ? "B" : "Y")));
const filmFamilies = families.filter((family) => !["glue", "filler", "clay", "stripper", "thinner"].includes(family));

/** What the can itself says about going over another finish. It comes before the trade's table. */
function OverLines({ lines, onChange }: { lines: OverLine[]; onChange: (lines: OverLine[]) => void }) {
  const headId = useId();
  const change = (index: number, line: Partial<OverLine>) =>
    onChange(lines.map((other, place) => (place === index ? { ...other, ...line } : other)));
  const free = filmFamilies.filter((family) => !lines.some(({ underFamily }) => underFamily === family));
  return (
    <details className="form-section" open={lines.length > 0 || undefined}>
      <summary id={headId}>Over another finish</summary>
      <div className="form-section-body">
        <p className="why">Only what the can says itself. Where it is silent the table of the trade counts.</p>
        {lines.map((line, index) => (
          <div key={line.underFamily} className="over-line">
            <b>Over {familyWords[line.underFamily]}</b>
            <ChoiceField
              label="What the can says"
              choices={overRules}
              chosen={ruleOf(line)}
              onChoose={(rule) =>
                change(index, { isNever: rule === "N", rule: rule === "N" ? undefined : (rule as OverLine["rule"]) })
              }
            />
            <NumberField
              label="After a wait of"
              unit="h"
              minValue={0.01}
              formatOptions={{ maximumFractionDigits: 4 }}
              value={line.waitMin === undefined ? Number.NaN : line.waitMin / 60}
              onChange={(hours) =>
                change(index, { waitMin: Number.isNaN(hours) ? undefined : Math.max(1, Math.round(hours * 60)) })
              }
            />
            <Key
              kind="take-back"
              onPress={() => onChange(lines.filter((_, place) => place !== index))}
              aria-label={`Take the line about ${familyWords[line.underFamily]} away`}
            >
              Take this line away
            </Key>
          </div>
        ))}
        {free.length > 0 && (
          <ChoiceField
            label="Add a line: over"
            choices={free.map((id) => ({ id, words: familyWords[id] }))}
            chosen={null}
            onChoose={(underFamily) => onChange([...lines, { underFamily, isNever: false, rule: "Y" }])}
          />
        )}
      </div>
    </details>
  );
}
