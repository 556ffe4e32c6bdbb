"use client";
import type { ReactNode } from "react";
import { Wordmark } from "../kit/wordmark";
import { useClientNavigation } from "../shell/client-navigation";
import "./entrance.css";

/** Around the pages that open before anybody is signed in. */
export function Doorway({ children }: { children: ReactNode }) {
  useClientNavigation();
  return (
    <div className="doorway">
      <header>
        <Wordmark />
      </header>
      <main>{children}</main>
    </div>
  );
}
