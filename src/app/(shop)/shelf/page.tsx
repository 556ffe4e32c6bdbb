"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/shelf/shelf-screen").then((module) => module.ShelfScreen));
