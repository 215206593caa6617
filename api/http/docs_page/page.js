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

window.ui = SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#swagger-ui",
  layout: "BaseLayout", // the bar on top would load a document from any address
  validatorUrl: null,
  deepLinking: true,
  tryItOutEnabled: true,
  filter: true,
  docExpansion: "list",
  defaultModelsExpandDepth: 0,
  plugins: [() => ({ fn: { opsFilter: operationsWith } })],
});
