/* At the stove: what is typed is kept on this device until the kitchen has it.

   The page works without this script: the form is then sent like any other. With it, each reading
   gets a key and the device's own time, waits in this browser's storage, and is sent when there
   is a connection. The same key is kept once, so sending twice does no harm. */

(() => {
  "use strict";

  const form = document.getElementById("stove-form");
  if (!form) return;

  const panel = document.getElementById("stove-now");
  const waitingLine = document.getElementById("stove-waiting");
  const refusedLine = document.getElementById("stove-refused");
  const box = document.getElementById("stove-value");
  // Each event has its own place, so that two tabs never overwrite each other's readings; and each
  // person too, so that nobody sends what somebody else typed on a shared phone.
  const shelf = `stove:${form.dataset.person}:${form.dataset.batch}:`;
  const TRY_AGAIN_MS = 10000;
  let isSending = false;
  const inMemory = new Map();

  const newKey = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  };

  const keep = (name, event) => {
    try {
      localStorage.setItem(name, JSON.stringify(event));
    } catch {
      inMemory.set(name, event); // storage is full or refused: at least until this page closes
    }
  };

  const drop = (name) => {
    inMemory.delete(name);
    try {
      localStorage.removeItem(name);
    } catch {
      // refused, so nothing stood there
    }
  };

  const waiting = () => {
    const found = Array.from(inMemory);
    try {
      for (let place = 0; place < localStorage.length; place += 1) {
        const name = localStorage.key(place);
        if (name && name.startsWith(shelf)) found.push([name, JSON.parse(localStorage.getItem(name))]);
      }
    } catch {
      // storage refused: what is in memory is all there is
    }
    return found.sort((one, other) => one[1].read_at.localeCompare(other[1].read_at));
  };

  const say = (why) => {
    const events = waiting();
    // The page came out of this phone's own store: what it shows may be behind.
    const old = form.dataset.kept ? `No connection: this page is as it was at ${form.dataset.asOf}. ` : "";
    waitingLine.hidden = events.length === 0 && !old;
    if (events.length === 0) {
      waitingLine.textContent = old && `${old}What you type is kept on this phone and sent when the connection is back.`;
      return;
    }
    const typed = events.map(([, event]) => `${event.word} ${event.value}`).join("; ");
    const word = events.every(([, event]) => event.kind) ? ["reading", "readings"] : ["entry", "entries"];
    const count = events.length === 1 ? `1 ${word[0]} is not saved yet` : `${events.length} ${word[1]} are not saved yet`;
    waitingLine.textContent = `${old}${count}: ${typed}. ${why || "It is kept on this phone and sent when the connection is back."}`;
  };

  const refuse = (sentence, event) => {
    refusedLine.textContent = sentence;
    refusedLine.hidden = !sentence;
    box.toggleAttribute("aria-invalid", Boolean(sentence));
    if (sentence && !event.action) {
      const kind = form.querySelector(`[name="kind"][value="${event.kind}"]`);
      if (kind) kind.checked = true;
      if (!box.value) box.value = event.value;
      box.focus();
    }
  };

  const body = (event) => {
    const fields = new FormData();
    // The token of the page as it stands: signing in again in another tab renews the cookie only.
    fields.set("csrfmiddlewaretoken", form.elements.csrfmiddlewaretoken.value);
    for (const name of ["kind", "value", "tare_g", "sample_c", "key", "read_at", "reading", "answer", "ph"]) {
      if (event[name]) fields.set(name, event[name]);
    }
    return fields;
  };

  const show = (panelText) => {
    const typed = panel.querySelector("#ph")?.value;
    const wasOpen = Boolean(panel.querySelector("#keeping")?.open);
    const before = panel.querySelector("#ph")?.defaultValue;
    panel.innerHTML = panelText;
    const box = panel.querySelector("#ph");
    if (box && typed !== before) box.value = typed;
    if (wasOpen && panel.querySelector("#keeping")) panel.querySelector("#keeping").open = true;
    form.dataset.kept = "";
  };

  const sendOne = async (name, event) => {
    const answer = await fetch(event.action || form.action, {
      method: "POST",
      body: body(event),
      headers: { "X-Requested-With": "stove" },
      credentials: "same-origin",
      redirect: "manual",
    });
    if (answer.status === 200) {
      drop(name);
      show(await answer.text());
      return "";
    }
    if (answer.status === 422) {
      drop(name);
      refuse(await answer.text(), event);
      return "";
    }
    if (answer.type === "opaqueredirect" || answer.status === 403) {
      return "You have been signed out. It is kept on this phone: sign in again and open this page.";
    }
    return "The kitchen's computer could not take it just now; it is kept on this phone and tried again.";
  };

  const send = async () => {
    if (isSending) return;
    isSending = true;
    let why = "";
    try {
      // Looked up anew each time: more may be typed while one is on its way.
      for (let [next] = waiting(); next && !why; [next] = waiting()) why = await sendOne(...next);
    } catch {
      why = ""; // no connection: said in the line as it stands
    } finally {
      isSending = false;
      say(why);
    }
  };

  form.addEventListener("submit", (submitted) => {
    submitted.preventDefault();
    const chosen = form.querySelector('[name="kind"]:checked');
    const value = box.value.trim();
    refuse("");
    if (!value || !chosen) {
      refuse("Type what you read, then press the button.", { kind: chosen ? chosen.value : "", value: "" });
      return;
    }
    const event = {
      kind: chosen.value,
      word: chosen.dataset.word || chosen.value,
      value,
      sample_c: chosen.value === "brix" ? form.elements.sample_c.value.trim() : "",
      key: newKey(),
      read_at: new Date().toISOString(),
    };
    keep(shelf + event.key, event);
    box.value = "";
    say();
    send();
  });

  // Answers to what the stove asks, and the pH: in the panel, so caught where it stands.
  panel.addEventListener("submit", (submitted) => {
    submitted.preventDefault();
    const fields = Object.fromEntries(new FormData(submitted.target));
    delete fields.csrfmiddlewaretoken;
    refuse("");
    const event = {
      ...fields,
      action: submitted.target.action,
      word: submitted.target.dataset.answer || "pH",
      value: fields.ph || "",
      key: fields.key || newKey(),
      read_at: new Date().toISOString(),
    };
    keep(shelf + event.key, event);
    say();
    send();
  });

  window.addEventListener("online", async () => {
    await send();
    if (form.dataset.kept && !box.value && waiting().length === 0) window.location.reload();
  });
  window.setInterval(() => {
    if (waiting().length) send();
  }, TRY_AGAIN_MS);

  // --- The page itself is kept for when the network is gone -------------------------------------

  // Only this one page, and only while its batch is on the fire; see stove-worker.js.
  if ("serviceWorker" in navigator) {
    const worker = form.dataset.worker;
    navigator.serviceWorker.register(worker, { scope: new URL(".", new URL(worker, window.location)).pathname })
      .catch(() => {}); // refused, as in a private window: the page works all the same while it is open
  }

  // --- The screen stays on while this page is looked at -----------------------------------------

  const stayAwake = async () => {
    if (!("wakeLock" in navigator) || document.visibilityState !== "visible") return;
    try {
      await navigator.wakeLock.request("screen");
    } catch {
      // refused, usually because the battery is low: the page works all the same
    }
  };
  document.addEventListener("visibilitychange", stayAwake);
  stayAwake();

  say();
  send();
})();
