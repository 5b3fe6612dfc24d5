// What was noted as a table with the columns of a guide's own tables of sightings: handed on, or saved as a file.
(() => {
  "use strict";
  const { put, places, dayOf, hourOf, say, fill, make, refused } = globalThis.guideSeen;
  const doc = document, giving = doc.querySelector(".giving"), form = giving.querySelector("form");
  const asDay = new Intl.DateTimeFormat(doc.documentElement.lang.replace(/^en$/, "en-GB"), { dateStyle: "full" });
  const dated = (day) => asDay.format(new Date(`${day}T12:00`));
  const order = (a, b) => a.date.localeCompare(b.date) || a.time.localeCompare(b.time) || a.id.localeCompare(b.id);

  const COLUMNS = {
    occurrenceID: (r) => r.id, eventDate: (r) => r.date, eventTime: (r) => r.time, scientificName: (r) => r.taxon.latin,
    lifeStage: (r) => r.stage, individualCount: (r) => r.count, occurrenceStatus: (r) => r.count ? "present" : "absent",
    locationID: (r) => r.place, locality: (r, known) => known.get(r.place),
    decimalLatitude: (r) => r.at?.lat.toFixed(r.at.decimals), decimalLongitude: (r) => r.at?.lon.toFixed(r.at.decimals),
    coordinateUncertaintyInMeters: (r) => r.at?.within, geodeticDatum: (r) => r.at && "WGS84",
    recordedBy: () => form.by.value.trim(), basisOfRecord: () => "HumanObservation",
  };
  const cell = (value) => /[",\n\r]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
  const table = (records, known) => [
    Object.keys(COLUMNS), ...records.map((record) => Object.values(COLUMNS).map((column) => cell(String(column(record, known) ?? "")))),
  ].map((row) => `${row.join(",")}\n`).join("");

  const hand = async (file) => {
    if (navigator.canShare?.({ files: [file] })) {
      // Whoever closes the choice without choosing has given nothing out.
      try { await navigator.share({ files: [file] }); return true; } catch (error) { if (error.name === "AbortError") return false; }
    }
    const address = URL.createObjectURL(file);
    make("a", { href: address, download: file.name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    return true;
  };
  // What was changed since it went out has to go out again, under the same ID: whoever keeps the guide is told that it differs.
  const isOut = (record) => Boolean(record.given && !record.changed);
  // Whether they went out; each then bears the day.
  const giveOut = async (records) => {
    if (!records.length) { say(giving.dataset.none); return false; }
    const now = new Date(), known = new Map((await places()).map(([id, name]) => [id, name]));
    const name = `seen-${dayOf(now)}-${hourOf(now).replaceAll(":", "")}.csv`;
    if (!await hand(new File([table([...records].sort(order), known)], name, { type: "text/csv" }))) return false;
    try { for (const record of records) await put(Object.assign(record, { given: dayOf(now), changed: false })); } catch { refused(); return false; }
    say(fill(giving.dataset.shared, { n: records.length }));
    return true;
  };

  try { form.by.value = localStorage.getItem("seen by") || ""; } catch { /* asked anew */ }
  form.by.addEventListener("change", () => { try { localStorage.setItem("seen by", form.by.value.trim()); } catch { /* asked anew */ } });
  globalThis.guideGiving = { giveOut, isOut, order, dated };
})();
