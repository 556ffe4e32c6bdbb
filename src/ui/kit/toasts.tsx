"use client";
import { Button } from "react-aria-components/Button";
import { Text } from "react-aria-components/Text";
import {
  UNSTABLE_Toast as Toast,
  UNSTABLE_ToastContent as ToastContent,
  UNSTABLE_ToastQueue as ToastQueue,
  UNSTABLE_ToastRegion as ToastRegion,
} from "react-aria-components/Toast";

export type ToastWords = {
  /** One sentence. */
  text: string;
  /** A promise or a person is concerned: the bar carries an ochre end. */
  atRisk?: boolean;
  /** At most one key, a verb. */
  act?: { words: string; onPress: () => void };
};

export type ToastLine = ToastQueue<ToastWords>;

/** How long a sentence stays, and one with a key; pointing at it or focusing it stops the clock. */
const stayMs = 6_000;
const stayWithKeyMs = 10_000;

export const toastLine = (): ToastLine => new ToastQueue<ToastWords>({ maxVisibleToasts: 2 });

/** Says one sentence. It must never be the only trace of anything: the change itself is on the board. */
export const tell = (line: ToastLine, words: ToastWords) =>
  line.add(words, { timeout: words.act ? stayWithKeyMs : stayMs });

/** Ink bars above the dock. Put one on the page, near its end. */
export function Toasts({ line }: { line: ToastLine }) {
  return (
    <ToastRegion queue={line} className="toasts" aria-label="Short answers">
      {({ toast }) => {
        const { text, atRisk, act } = toast.content;
        return (
          <Toast toast={toast} className="toast" data-at-risk={atRisk || undefined}>
            <ToastContent className="toast-words">
              <Text slot="title">{text}</Text>
            </ToastContent>
            {act && (
              <Button
                className="key"
                onPress={() => {
                  act.onPress();
                  line.close(toast.key);
                }}
              >
                {act.words}
              </Button>
            )}
          </Toast>
        );
      }}
    </ToastRegion>
  );
}
