// Keeps the screen on while a page is looked at that is read from afar, with gloves on. Where the browser cannot, the page
// says so, so that somebody sets the device instead.

await worded;

const words = document.getElementById("awake");
let lock = null;

// tell says how it stands; nothing but words changes on the page.
function tell(text) {
  words.textContent = text;
  words.hidden = false;
}

// hold asks for the screen to stay on. The browser takes it back when the page is out of sight.
async function hold() {
  if (document.hidden || lock) {
    return;
  }
  if (!("wakeLock" in navigator)) {
    tell(say("This page cannot keep the screen on here: the browser does not offer it, or the address is not https. Set the device to stay on."));
    return;
  }
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => {
      lock = null;
      tell(say("The screen may go dark: the device has taken it back."));
    });
    tell(say("The screen stays on while this page is open."));
  } catch {
    tell(say("The device does not let this page keep the screen on, perhaps to spare the battery. Set it to stay on."));
  }
}

document.addEventListener("visibilitychange", hold);
hold();
