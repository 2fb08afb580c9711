// A judge says that the lane is ready. It changes nothing on the pad; without a network the
// judge shows it by hand, as ever.

function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return `ready-${Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}

async function tell(button: HTMLButtonElement): Promise<boolean> {
  const { heat = "", lane = "0", formToken = "" } = button.dataset;
  try {
    const answer = await fetch("/entries", {
      method: "POST",
      headers: {
        "content-type": "application/json",
        "idempotency-key": newKey(),
        "x-form-token": formToken,
      },
      body: JSON.stringify({ kind: "lane.ready", data: { heat, lane: Number(lane) } }),
    });
    return answer.ok;
  } catch {
    return false; // no network: nothing is kept, since by the time it is back the heat has begun
  }
}

const button = document.getElementById("lane-ready");
if (button instanceof HTMLButtonElement) {
  button.addEventListener("click", () => {
    button.disabled = true;
    void tell(button).then((told) => {
      button.textContent = (told ? button.dataset["told"] : button.dataset["untold"]) ?? "";
      button.disabled = told;
    });
  });
}
