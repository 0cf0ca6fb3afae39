// What is valid until a day says that it has passed, by the day of the plant.
(() => {
  const today = window.packetDevice ? window.packetDevice.now().slice(0, 10) : new Date().toISOString().slice(0, 10)
  for (const place of document.querySelectorAll("[data-valid-until]")) {
    if (place.dataset.validUntil < today) place.append(Object.assign(document.createElement("b"), { textContent: " EXPIRED" }))
  }
  for (const place of document.querySelectorAll("[data-expired-after]")) place.hidden = place.dataset.expiredAfter >= today
})()
