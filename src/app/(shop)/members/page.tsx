"use client";
import { screen } from "~/ui/shell/screen";

export default screen(() => import("~/ui/members/members-screen").then((module) => module.MembersScreen));
