/** Waiting will not mend this, in a few words: a solid oxide bar and what holds the piece. */
export function Stuck({ text }: { text: string }) {
  return (
    <span className="stuck">
      <span>
        <span className="sr-only">Stuck: </span>
        {text}
      </span>
    </span>
  );
}
