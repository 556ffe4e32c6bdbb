"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/more/more-screen").then((module) => module.MoreScreen));
