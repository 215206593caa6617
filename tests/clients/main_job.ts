// A program of a shop in TypeScript. The types in dialset.d.ts are generated from the OpenAPI document.
import createClient from "openapi-fetch";
import type { components, paths } from "./dialset.js";

declare const process: { argv: string[] };

const dialset = createClient<paths>({ baseUrl: process.argv[2] });
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
const side: "cap" | "rod" | undefined = able.data.cylinder_side;
const checked = able.data.checks?.length !== 0;

// With answers, what was not picked is left out; what every answer tells is there without a question mark.
const few = await dialset.POST("/v1/pressure", {
  body: { ...question, answers: "gauge_setting,torque.target" },
});
if (few.error) {
  throw new Error(few.error.detail);
}
const aim: number | undefined = few.data.torque?.target?.value;
const least: number | undefined = few.data.torque?.minimum?.value;
const stops = few.data.findings.filter((finding) => finding.level === "stop").length;
const asked: string | undefined = few.data.asked.answers;

const unable = await dialset.POST("/v1/pressure", { body: { ...question, machine: "nowhere" } });
const unknown = unable.error?.code === "unknown_machine";

const batch = await dialset.POST("/v1/pressure/batch", {
  params: { query: { answers: "gauge_setting,torque.target" } },
  body: { lines: [{ order: "W-17" }, { connection: "NC51" }], defaults: question },
});
if (batch.error) {
  throw new Error(batch.error.detail);
}
const lines = batch.data.lines.map((line) => line.problem_code ?? line.line_status);
const settings = batch.data.lines.map((line) => line.result?.gauge_setting?.value ?? line.problem?.title);
const aims = batch.data.lines.map((line) => line.result?.torque?.target?.unit);
const picked = Object.keys(batch.data.lines[0].result ?? {});

// A program that wants another form than JSON says how it reads it, and has the type that goes with that.
const cell = await dialset.GET("/v1/conversion", {
  params: { query: { quantity: "1 in", to: "mm", format: "text", answer: "result", unit: "mm" } },
  parseAs: "text",
});
const table = await dialset.POST("/v1/conversion/batch", {
  params: { query: { format: "csv" } },
  body: { lines: [{ quantity: "1 in", to: "mm" }] },
  parseAs: "text",
});
const rows = table.data?.trimEnd().split("\n").length;

console.log(
  JSON.stringify({
    value,
    unit,
    side,
    checked,
    few: { aim, least, stops, asked },
    unknown,
    lines,
    settings,
    aims,
    picked,
    cell: cell.data,
    rows,
  }),
);
