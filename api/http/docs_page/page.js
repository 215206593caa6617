"use strict";
// Swagger UI finds tags alone. Here every word must stand in the tag, the path or the text of an operation.
function operationsWith(tags, phrase) {
  const words = phrase.toLowerCase().split(/\s+/);
  const found = (tag) => (operation) => {
    const told = ["summary", "description"].map((name) => operation.getIn(["operation", name]));
    const text = [tag, operation.get("path"), ...told].join(" ").toLowerCase();
    return words.every((word) => text.includes(word));
  };
  return tags
    .map((tag, name) => tag.update("operations", (operations) => operations.filter(found(name))))
    .filter((tag) => tag.get("operations").size > 0);
}

// Swagger UI reads the whole document anew for every form that is opened, which takes seconds. Ours refers to itself
// alone and never in a circle, so that a part of it is what it refers to, put in its place.
const parts = new Map();
function whole(spec, part) {
  if (Array.isArray(part)) return part.map((each) => whole(spec, each));
  if (part === null || typeof part !== "object") return part;
  const { $ref: pointer, ...own } = part;
  const members = Object.fromEntries(Object.entries(own).map(([name, each]) => [name, whole(spec, each)]));
  if (typeof pointer !== "string") return members;
  if (!parts.has(pointer)) {
    const names = pointer.slice(2).split("/").map((name) => name.replaceAll("~1", "/").replaceAll("~0", "~"));
    parts.set(pointer, whole(spec, names.reduce((found, name) => found[name], spec)));
  }
  return { ...parts.get(pointer), ...members };
}
async function partOf(spec, path) {
  return { spec: whole(spec, path.reduce((found, name) => found[name], spec)), errors: [] };
}

window.ui = SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#swagger-ui",
  layout: "BaseLayout", // the bar on top would load a document from any address
  validatorUrl: null,
  deepLinking: true,
  tryItOutEnabled: true,
  syntaxHighlight: false, // colours of a long answer take longer than the answer
  filter: true,
  docExpansion: "list",
  defaultModelsExpandDepth: 0,
  plugins: [() => ({ fn: { opsFilter: operationsWith, resolveSubtree: partOf } })],
});
