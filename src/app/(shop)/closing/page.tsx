"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/closing/closing-screen").then((module) => module.ClosingScreen));
