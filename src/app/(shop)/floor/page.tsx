"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/floor/floor-screen").then((module) => module.FloorScreen));
