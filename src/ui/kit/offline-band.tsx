import { WifiOff } from "lucide-react";

/** Across the top while there is no signal. It lives in the page from the start, so that its coming is read aloud. */
export function OfflineBand({ since }: { since?: string }) {
  return (
    <div role="status">
      {since !== undefined && (
        <p className="offline-band">
          <WifiOff aria-hidden="true" size={22} />
          <span>No signal since {since}. Everything here still works.</span>
        </p>
      )}
    </div>
  );
}
