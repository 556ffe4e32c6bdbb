"use client";
import dynamic from "next/dynamic";
import type { ComponentType } from "react";
import { BareBoards } from "../kit/bare-boards";

/** A screen of the shop, fetched beside the shell rather than with the page: it shows what this device knows, not what a server drew. */
export function screen(load: () => Promise<ComponentType>): ComponentType {
  const fetched = typeof window === "undefined" ? undefined : load();
  return dynamic(() => fetched ?? load(), { ssr: false, loading: () => <BareBoards count={4} /> });
}
