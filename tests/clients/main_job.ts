// A program of a shop in TypeScript. The types in dialset.d.ts are generated from the OpenAPI document.
import createClient from "openapi-fetch";
import type { components, paths } from "./dialset.js";

declare const process: { argv: string[] };

const dialset = createClient<paths, "application/json" | "application/problem+json">({
  baseUrl: process.argv[2],
});
const question = {
  family: "rotary_shouldered",
  connection: "NC50",
  component: "drill_collar",
  box_outside_diameter: "6 1/2 in",
  pin_bore: "2-13/16 in",
  machine: "north-bay-2",
  operation: "make_up",
  thread_hand: "right",
  arm_position: "square",
  units: "us",
  detail: "full",
} satisfies components["schemas"]["PressureRotaryShoulderedJointBody"];

const able = await dialset.POST("/v1/pressure", { body: question });
if (able.error) {
  throw new Error(able.error.detail);
}
const setting = able.data.gauge_setting;
if (!setting) {
  throw new Error("a make-up has a setting, a break-out has none");
}
const { value, unit } = setting;
const checked = able.data.checks?.length !== 0;

const unable = await dialset.POST("/v1/pressure", { body: { ...question, machine: "nowhere" } });
const unknown = unable.error?.code === "unknown_machine";

const batch = await dialset.POST("/v1/pressure/batch", {
  params: { query: { answers: "gauge_setting,torque.target" } },
  body: { lines: [{ order: "W-17" }, { connection: "NC51" }], defaults: question },
});
const lines = batch.data?.lines.map((line) => line.problem_code ?? line.line_status);
const picked = Object.keys(batch.data?.lines[0].result ?? {});

console.log(JSON.stringify({ value, unit, side: able.data.cylinder_side, checked, unknown, lines, picked }));
