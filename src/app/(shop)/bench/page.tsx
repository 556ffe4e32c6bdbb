"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/bench/bench-screen").then((module) => module.BenchScreen));
