// A date until which something is valid says that it has passed, by the day of this device.
for (const place of document.querySelectorAll("[data-valid-until]")) {
  const now = new Date()
  const today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-")
  if (place.dataset.validUntil < today) {
    const word = document.createElement("b")
    word.textContent = " EXPIRED"
    place.append(word)
  }
}
