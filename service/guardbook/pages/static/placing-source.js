// Fetches the planes of the volume that the fieldset, or another input of its form, names.

export class Source {
  constructor(fieldset, changed) {
    this.fieldset = fieldset;
    for (const name of ["hostInput", "stageInput"]) {
      const input = document.getElementById(fieldset.dataset[name] ?? "");
      input?.addEventListener("change", changed);
    }
    new MutationObserver(changed).observe(fieldset, { attributeFilter: ["data-host", "data-stage", "data-piece"] });
  }

  said(what) {
    const input = document.getElementById(this.fieldset.dataset[`${what}Input`] ?? "");
    return (input?.value || this.fieldset.dataset[what] || "").trim();
  }

  // "host/IDENTIFIER" of the volume, also from its address; empty where none is named.
  get host() {
    const found = /(?:^|host\/)([0-9A-Za-z]{6}-?[0-9A-Za-z])\/?$/.exec(this.said("host"));
    return found ? `host/${found[1]}` : "";
  }

  // Ask for the planes, and for one more on which nothing lies yet. Throws Error saying why it cannot be had.
  async ground(plane) {
    const asked = new URLSearchParams();
    const stage = this.said("stage").replace(/^.*#stage-/, "");
    if (/^\d+$/.test(stage)) asked.set("stage", stage);
    if (plane) asked.append("plane", plane);
    const address = `${this.fieldset.dataset.root ?? ""}/${this.host}/ground.json?${asked}`;
    const reply = await fetch(address, { headers: { Accept: "application/json" } });
    const found = await reply.json();
    if (!reply.ok) throw new Error(found.detail ?? String(reply.status));
    return found;
  }
}
