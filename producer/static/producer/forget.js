/* Nobody is signed in here: stove pages kept for a lost network are thrown away.

   Readings that were typed and not sent yet stay, each under the name of who typed it. */

(() => {
  "use strict";

  if ("caches" in window) {
    caches.keys().then((names) => names.filter((name) => name.startsWith("stove-")).map((name) => caches.delete(name)));
  }
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.getRegistrations().then((found) => found.map((one) => one.unregister()));
  }
})();
