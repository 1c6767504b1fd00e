// Has the page kept for reading without a connection. Without this script the page is as it is, and not kept.
"use strict";
if ("serviceWorker" in navigator) {
  navigator.serviceWorker.register("worker.js", { scope: location.pathname }).catch(() => {});
}
