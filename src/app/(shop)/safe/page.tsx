"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/safe/safe-screen").then((module) => module.SafeScreen));
