// A page opened from a file may not start a worker. There the search runs in a hidden frame of the same page instead.
// The frame's script is loaded by address, so that no inline script is needed.
if (location.protocol === "file:") {
  window.Worker = class extends EventTarget {
    constructor(address) {
      super()
      this.waiting = []
      const frame = document.createElement("iframe")
      frame.hidden = true
      document.body.append(frame)
      this.inside = frame.contentWindow
      // As from a worker, after the caller is done: an answer within the word that all is ready would be missed by half.
      this.inside.postMessage = (data) => queueMicrotask(() => this.dispatchEvent(new MessageEvent("message", { data })))
      this.inside.importScripts = () => { throw new Error("only the language that the theme holds is searched") }
      const script = this.inside.document.createElement("script")
      script.src = new URL(address, location.href).href
      script.onload = () => this.start()
      this.inside.document.body.append(script)
    }

    start() {
      const waiting = this.waiting
      this.waiting = null
      waiting.forEach((data) => this.postMessage(data))
    }

    postMessage(data) {
      if (this.waiting) this.waiting.push(data)
      else this.inside.dispatchEvent(new MessageEvent("message", { data }))
    }

    terminate() {
      this.inside.frameElement.remove()
    }
  }
}
