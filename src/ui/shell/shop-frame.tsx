"use client";
import dynamic from "next/dynamic";
import type { ReactNode } from "react";
import { BareBoards } from "../kit/bare-boards";
import "./shell.css";

/** What stands before the shop's own script has come: the first load of every screen is this small. */
const ShopShell = dynamic(() => import("./shop-shell").then((module) => module.ShopShell), {
  ssr: false,
  loading: () => <BarePage />,
});

export const BarePage = () => (
  <main className="page">
    <BareBoards count={4} />
  </main>
);

export function ShopFrame({ buildId, children }: { buildId: string; children: ReactNode }) {
  return <ShopShell buildId={buildId}>{children}</ShopShell>;
}
