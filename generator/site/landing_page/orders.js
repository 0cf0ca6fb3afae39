// Every word typed must stand somewhere in an order's entry.
const field = document.getElementById("filter")
const orders = [...document.querySelectorAll(".order")].map((item) => ({ item, text: item.textContent.toLowerCase() }))

const narrow = () => {
  const words = field.value.toLowerCase().split(/\s+/).filter(Boolean)
  let shown = 0
  for (const { item, text } of orders) {
    item.hidden = !words.every((word) => text.includes(word))
    shown += item.hidden ? 0 : 1
  }
  document.getElementById("found").textContent = `${shown} of ${orders.length}`
}

field.addEventListener("input", narrow)
narrow()
