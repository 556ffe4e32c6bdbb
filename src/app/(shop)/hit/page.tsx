"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/hit/hit-screen").then((module) => module.HitScreen));
