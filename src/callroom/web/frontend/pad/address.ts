// Where the server is now, as a judge types it: a short code, or the address itself. The code
// is that of views/place_code.py and needs nobody to look it up.

const ALPHABET = "23456789ABCDEFGHJKMNPQRTVWXYZ";
const BODY = 10;
const PORTS = 65_536;

/** The origin that was typed, as "http://192.168.1.20:8000"; null if it is none. */
export function readAddress(text: string): string | null {
  return fromCode(text) ?? fromAddress(text);
}

function fromCode(text: string): string | null {
  const code = text
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, "")
    .replace(/S/g, "5")
    .replace(/U/g, "V");
  if (code.length !== BODY + 1) return null;
  const signs = [...code].map((sign) => ALPHABET.indexOf(sign));
  if (signs.includes(-1)) return null;
  const sum = signs.reduce((all, sign, i) => all + sign * (i < BODY ? i + 2 : 1), 0);
  if (sum % ALPHABET.length !== 0) return null;
  // Below 2 ** 49, so a number holds it exactly.
  const number = signs.slice(0, BODY).reduceRight((all, sign) => all * ALPHABET.length + sign, 0);
  const host = Math.floor(number / PORTS);
  if (host > 0xffffffff) return null;
  const bytes = [24, 16, 8, 0].map((bits) => Math.floor(host / 2 ** bits) % 256);
  return new URL(`http://${bytes.join(".")}:${number % PORTS}`).origin;
}

function fromAddress(text: string): string | null {
  const typed = text.trim();
  const whole = /^https?:\/\//i.test(typed) ? typed : `http://${typed}`;
  // A lone word may be a mistyped code: an address has a dot, a colon, or is the machine itself.
  if (!/[.:]/.test(typed) && typed !== "localhost") return null;
  try {
    const url = new URL(whole);
    if (url.hostname === "" || url.username !== "" || url.pathname.length > 1) return null;
    return url.origin;
  } catch {
    return null;
  }
}
