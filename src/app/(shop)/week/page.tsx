"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/week/week-screen").then((module) => module.WeekScreen));
