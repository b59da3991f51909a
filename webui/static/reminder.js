// Lets who holds the phone ask to be told when a hook is near, on the page of the entry. What can do it, the browser and the
// address, is found out here; where it cannot, the page says so and stays as it was.

await worded;

const part = document.getElementById("remind");
const button = part.querySelector("button");
const told = part.querySelector("[role=status]");
const here = location.pathname;
const store = "clayline reminds " + here;

// send tells the server about a subscription.
async function send(act, subscription) {
  const { endpoint, keys } = subscription.toJSON();
  const values = new URLSearchParams({ endpoint, key: keys.p256dh, secret: keys.auth });
  const answer = await fetch(here + "/" + act, { method: "POST", body: values });
  if (!answer.ok) {
    throw new Error((await answer.text()) || String(answer.status));
  }
}

// bytes reads base64url.
const bytes = (text) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));

// begun waits until a worker runs: before, a browser takes no subscription with it.
function begun(registration) {
  const worker = registration.installing ?? registration.waiting ?? registration.active;
  return new Promise((done) => {
    const look = () => worker.state === "activated" && done(registration);
    worker.addEventListener("statechange", look);
    look();
  });
}

// ask asks the person, the browser and the server, in that order.
async function ask() {
  if ((await Notification.requestPermission()) !== "granted") {
    told.textContent = say("This browser may show no notices here. Allow them in its settings and press again.");
    return;
  }
  const worker = await begun(await navigator.serviceWorker.register("/remind.js", { scope: here }));
  const subscription = await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: bytes(part.dataset.key) });
  await send("remind", subscription);
  localStorage.setItem(store, "yes");
  told.textContent = say("This phone is told when 3 hooks are ahead. It may come late or not at all: look at the page, and the call in the pits counts.");
}

// forget takes the wish back.
async function forget() {
  const worker = await navigator.serviceWorker.getRegistration(here);
  const subscription = await worker?.pushManager.getSubscription();
  if (subscription) {
    await send("forget", subscription);
  }
  localStorage.removeItem(store);
  told.textContent = say("This phone is not told any more.");
}

// draw shows what the button does now.
function draw() {
  button.textContent = localStorage.getItem(store) ? say("Remind me no more") : say("Remind me 3 hooks before");
}

if (!isSecureContext || !("PushManager" in window) || !("serviceWorker" in navigator)) {
  told.textContent = say("This browser cannot be reminded here: it needs an address that begins with https, and on some phones this page on the home screen.");
  button.hidden = true;
} else {
  draw();
  button.onclick = async () => {
    button.disabled = true;
    try {
      await (localStorage.getItem(store) ? forget() : ask());
    } catch (failed) {
      told.textContent = say("That did not work: {x}. Nothing was changed.", { x: failed.message });
    }
    button.disabled = false;
    draw();
  };
}
part.hidden = false;
