"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/piece/piece-screen").then((module) => module.PieceScreen));
