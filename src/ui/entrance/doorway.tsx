"use client";
import { useRouter } from "next/navigation";
import type { ReactNode } from "react";
import { RouterProvider } from "react-aria-components";
import { Wordmark } from "../kit/wordmark";
import "./entrance.css";

/** Around the pages that open before anybody is signed in. */
export function Doorway({ children }: { children: ReactNode }) {
  const router = useRouter();
  return (
    <RouterProvider navigate={(href) => router.push(href)}>
      <div className="doorway">
        <Wordmark />
        <main>{children}</main>
      </div>
    </RouterProvider>
  );
}
