"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/mixing/mixing-screen").then((module) => module.MixingScreen));
