import type { ReactNode } from "react";
import { StateWord } from "./glyph";
import { MemberMark, type MemberMarkProps } from "./member-mark";
import { Plate, type PlateProps } from "./plate";
import { PromiseFlag, type PromiseFlagProps } from "./promise-flag";
import { StageRun, type StageRunProps } from "./stage-run";
import { Stuck } from "./stuck";
import { Tag } from "./tag";
import { Tape, type TapeProps } from "./tape";

export type StripFaceProps = {
  tag: string;
  /** The piece's sheet. */
  href?: string;
  name: string;
  /** Who has it now. */
  who?: MemberMarkProps;
  where?: string;
  /** Wood, size or the like; left out where there is little room. */
  detail?: string;
  promise?: PromiseFlagProps;
  stuck?: string;
  /** Changes of this device that are not sent yet. */
  pending?: TapeProps;
  run: StageRunProps;
  plate: PlateProps;
};

/** Tag, name, who, where and promise, then the run, then the plate: one line on a laptop, three on a phone. */
export function StripFace({ heading, ...strip }: StripFaceProps & { heading?: ReactNode }) {
  const { tag, href, name, who, where, detail, promise, stuck, pending, run, plate } = strip;
  const placeWords = where ?? (who === undefined ? "nobody yet" : undefined);
  const hasFlags = promise !== undefined || stuck !== undefined || pending !== undefined;
  return (
    <div className="strip-face">
      <div className="strip-tag">
        <Tag number={tag} href={href} />
      </div>
      <div className="strip-name">{heading ?? <h2>{name}</h2>}</div>
      <div className="strip-where">
        {who && <MemberMark {...who} />}
        <p>
          {placeWords !== undefined && <span className="strip-stage">{run.stage} · </span>}
          {placeWords ?? <span className="strip-stage">{run.stage}</span>}
          {detail !== undefined && <span className="strip-detail"> · {detail}</span>}
        </p>
      </div>
      {hasFlags && (
        <div className="strip-flags">
          {pending && <Tape {...pending} />}
          {stuck !== undefined && <Stuck text={stuck} />}
          {promise && <PromiseFlag {...promise} />}
        </div>
      )}
      <div className="strip-run">
        <StageRun {...run} />
      </div>
      {run.state !== undefined && (
        <div className="strip-state">
          {run.glyph ? (
            <StateWord state={run.glyph} word={run.state} />
          ) : (
            <span className="state-word">{run.state}</span>
          )}
        </div>
      )}
      <div className="strip-plate">
        <Plate {...plate} />
      </div>
    </div>
  );
}
