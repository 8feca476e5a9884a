// A file may be dropped anywhere on a form that says data-drop; it lands in the form's own field, as if it had been chosen there.
for (const form of document.querySelectorAll("form[data-drop]")) {
  const field = form.querySelector('input[type="file"]');
  const over = (event, inside) => {
    if (![...(event.dataTransfer?.types ?? [])].includes("Files")) return;
    event.preventDefault();
    form.dataset.drop = inside ? "over" : "";
  };
  form.addEventListener("dragover", (event) => over(event, true));
  form.addEventListener("dragleave", (event) => over(event, false));
  form.addEventListener("drop", (event) => {
    over(event, false);
    if (!event.dataTransfer?.files.length) return;
    const one = new DataTransfer();
    one.items.add(event.dataTransfer.files[0]);
    field.files = one.files;
    field.dispatchEvent(new Event("change", { bubbles: true }));
    field.focus();
  });
}
