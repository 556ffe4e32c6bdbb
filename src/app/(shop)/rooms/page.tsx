"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/rooms/rooms-screen").then((module) => module.RoomsScreen));
