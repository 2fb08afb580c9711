// A part of a page that is asked for again every so many seconds while somebody looks at it. Without
// a script, or without a network, it stays as it was and says as of when.

const part = document.querySelector<HTMLElement>("[data-fresh]");

async function renew(shown: HTMLElement): Promise<void> {
  if (document.hidden || shown.contains(document.activeElement)) return;
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" } });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.querySelector<HTMLElement>("[data-fresh]");
    if (fresh && fresh.innerHTML !== shown.innerHTML) {
      shown.replaceChildren(...fresh.childNodes);
    }
  } catch {
    // No network: it says as of when it is.
  }
}

if (part) setInterval(() => void renew(part), Number(part.dataset["fresh"]) * 1000);
