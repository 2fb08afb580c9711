// The pad's texts come translated from the server; a text is named by its English words.

export type Words = (text: string, facts?: Readonly<Record<string, string | number>>) => string;

export function wordsFrom(given: Readonly<Record<string, string>>): Words {
  return (text, facts = {}) =>
    Object.entries(facts).reduce(
      (said, [name, value]) => said.replace(`{${name}}`, String(value)),
      given[text] ?? text,
    );
}
