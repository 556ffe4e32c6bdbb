"use client";
import { type KeyboardEvent, type ReactNode, use, useRef } from "react";
import { Button } from "react-aria-components/Button";
import { Disclosure, DisclosurePanel } from "react-aria-components/Disclosure";
import { OpenStripContext } from "./open-strip";
import { StripFace, type StripFaceProps } from "./strip-face";

export type StripProps = StripFaceProps & {
  /** What shows when the strip is open: films by surface, the sentence, "May I?", who and what, keys. */
  children?: ReactNode;
};

/** A piece on the chart. Its whole face opens it in place, pushing the others down; the tag leads to its sheet. */
export function Strip({ children, ...face }: StripProps) {
  const { openTag, setOpenTag } = use(OpenStripContext);
  const name = useRef<HTMLButtonElement>(null);
  const isOpen = openTag === face.tag;

  const closeOnEscape = (event: KeyboardEvent) => {
    if (event.key !== "Escape" || !isOpen || event.defaultPrevented) return;
    setOpenTag(null);
    name.current?.focus();
  };

  return (
    <li className="strip" data-open={isOpen || undefined} onKeyDown={closeOnEscape}>
      <Disclosure isExpanded={isOpen} onExpandedChange={(opens) => setOpenTag(opens ? face.tag : null)}>
        <StripFace
          {...face}
          heading={
            <h2>
              <Button slot="trigger" ref={name} className="strip-opener" data-strip-name>
                {face.name}
                <span className="sr-only">, {face.tag}</span>
              </Button>
            </h2>
          }
        />
        <DisclosurePanel>{isOpen && <div className="strip-opened">{children}</div>}</DisclosurePanel>
      </Disclosure>
    </li>
  );
}
