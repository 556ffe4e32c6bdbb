"use client";
import dynamic from "next/dynamic";
import { type ReactNode, useMemo, useState } from "react";
import type { Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { Coat, Piece, Surface } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { squareMetres } from "~/ui/format";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key, Keys } from "~/ui/kit/key";
import { useNames } from "~/ui/shell/names";
import { substrateWords } from "./about-view";
import { type CoatLine, coatLines } from "./build-view";
import { FindingsList } from "./findings-list";
import { PiecePart } from "./piece-part";
import { checkedSchedule } from "./schedule-findings";

const SurfaceSheet = dynamic(() => import("./surface-sheet").then((module) => module.SurfaceSheet), { ssr: false });
const ScheduleSheet = dynamic(() => import("./schedule-sheet").then((module) => module.ScheduleSheet), { ssr: false });
const CoatReportSheet = dynamic(() => import("./coat-report-sheet").then((module) => module.CoatReportSheet), {
  ssr: false,
});

type BuildPartProps = {
  facts: Facts;
  picture?: Picture;
  piece: Piece;
  now: InstantMs;
  zone: string;
  mayPlan: boolean;
  onLogCoat: () => void;
};

type Open =
  | { sheet: "surface"; surface?: Surface }
  | { sheet: "schedule"; surface: Surface }
  | { sheet: "coat"; coat: Coat };

/** Surface by surface, the coats as they lie, and those to come. */
export function BuildPart({ facts, picture, piece, now, zone, mayPlan, onLogCoat }: BuildPartProps) {
  const [open, setOpen] = useState<Open>();
  const surfaces = facts.where("surface", "pieceId", piece.id);
  const close = () => setOpen(undefined);
  return (
    <PiecePart title="The build">
      {surfaces.length === 0 && (
        <EmptyBoard
          title="No surface is named yet."
          sentence="Body, top, fronts: each has coats of its own, and the later of two decides when they may touch."
        />
      )}
      {surfaces.map((surface) => (
        <SurfaceBuild
          key={surface.id}
          surface={surface}
          lines={coatLines(facts, picture, surface, now, zone)}
          found={<SurfaceFindings facts={facts} surface={surface} />}
          onReport={(coat) => setOpen({ sheet: "coat", coat })}
          keys={
            mayPlan && (
              <Keys>
                <Key
                  kind="quiet"
                  onPress={() => setOpen({ sheet: "schedule", surface })}
                  aria-label={`Plan coats of ${surface.name}`}
                >
                  Plan coats
                </Key>
                <Key
                  kind="quiet"
                  onPress={() => setOpen({ sheet: "surface", surface })}
                  aria-label={`Change ${surface.name}`}
                >
                  Change
                </Key>
              </Keys>
            )
          }
        />
      ))}
      <Keys>
        {surfaces.length > 0 && (
          <Key kind="main" onPress={onLogCoat}>
            Log a coat
          </Key>
        )}
        <Key onPress={() => setOpen({ sheet: "surface" })}>Add a surface</Key>
      </Keys>
      {open?.sheet === "surface" && <SurfaceSheet pieceId={piece.id} surface={open.surface} onClose={close} />}
      {open?.sheet === "schedule" && <ScheduleSheet pieceId={piece.id} surface={open.surface} onClose={close} />}
      {open?.sheet === "coat" && <CoatReportSheet pieceId={piece.id} coatId={open.coat.id} onClose={close} />}
    </PiecePart>
  );
}

/** What the check of the schedule says, while a coat of it is still to come. */
function SurfaceFindings({ facts, surface }: { facts: Facts; surface: Surface }) {
  const names = useNames();
  const checked = useMemo(() => checkedSchedule(facts, surface), [facts, surface]);
  return checked ? <FindingsList findings={checked.findings} names={names} /> : null;
}

type SurfaceBuildProps = {
  surface: Surface;
  lines: CoatLine[];
  found: ReactNode;
  keys: ReactNode;
  onReport: (coat: Coat) => void;
};

function SurfaceBuild({ surface, lines, found, keys, onReport }: SurfaceBuildProps) {
  const bleeds =
    surface.bleedRisk === "yes" ? "may bleed" : surface.bleedRisk === "unknown" ? "bleeding not known" : undefined;
  const about = [squareMetres(surface.squareDecimetres), surface.isPaleWanted && "pale wanted", bleeds];
  return (
    <div className="surface-build">
      <div className="surface-head">
        <h3>{surface.name}</h3>
        <small>{about.filter(Boolean).join(" · ")}</small>
      </div>
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets */}
      <ol className="coat-lines" role="list" aria-label={`Coats of ${surface.name}, the newest first`}>
        {lines.map((line) => (
          <li key={line.coat.id} data-gone={line.standing === "gone" || undefined}>
            <span className="coat-layer" data-standing={line.standing} aria-hidden="true" />
            <div>
              <b>
                {line.number} · {line.product}
              </b>
              <small>{[line.state, line.wetFilm && `${line.wetFilm} wet`].filter(Boolean).join(" · ")}</small>
              {line.when && <small>{[line.when, line.air].filter(Boolean).join(" · ")}</small>}
              {line.next && <small data-next>{line.next}</small>}
            </div>
            {line.standing !== "gone" && line.standing !== "planned" && (
              <Key
                kind="quiet"
                onPress={() => onReport(line.coat)}
                aria-label={`Report on coat ${line.number} of ${surface.name}`}
              >
                Report
              </Key>
            )}
          </li>
        ))}
        <li>
          <span className="coat-layer" data-standing="wood" aria-hidden="true" />
          <div>
            <b>{surface.wood ?? "Wood"}</b>
            <small>{substrateWords[surface.substrate]}</small>
          </div>
        </li>
      </ol>
      {found}
      {keys}
    </div>
  );
}
