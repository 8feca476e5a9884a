// The asset of a piece: a header and one file of tables, as docs/shader-input.md describes them.
const KINDS = { float32: [Float32Array, 4], float16: [Uint16Array, 2], int8: [Int8Array, 1] };

/** A number from sixteen bits (IEEE 754 half precision). */
export function fromHalf(bits) {
  const sign = bits & 0x8000 ? -1 : 1;
  const exponent = (bits >> 10) & 31;
  const part = bits & 1023;
  return sign * (exponent ? 2 ** (exponent - 15) * (1 + part / 1024) : 2 ** -14 * (part / 1024));
}

/** The sixteen bits of a number from 0 to 1. */
export function toHalf(value) {
  if (value < 2 ** -25) return 0;
  const exponent = Math.max(Math.floor(Math.log2(value)), -14);
  const part = Math.round((value / 2 ** exponent - (value >= 2 ** -14 ? 1 : 0)) * 1024);
  return ((value >= 2 ** -14 ? exponent + 15 : 0) << 10) + part;
}

/** Header and tables by name; each table has its shape, and its values as they were sent. */
export function readAsset(head, buffer) {
  const tables = {};
  for (const { name, type, shape, offset } of head.tables) {
    const [Kind] = KINDS[type];
    tables[name] = { type, shape, values: new Kind(buffer, offset, shape.reduce((a, b) => a * b, 1)) };
  }
  return { ...head, tables };
}

/** A table's values as numbers. */
export function numbersOf(table) {
  return table.type === "float16" ? Float32Array.from(table.values, fromHalf) : table.values;
}

/** What a server said that stands in the way. */
export class Refused extends Error {
  constructor(problems) {
    super(problems.map((one) => `${one.allowed} ${one.advice}`.trim()).join(" "));
    this.problems = problems;
  }
}

/** Fetch the asset of a job, as it is or with other glass or another gap. */
export async function fetchAsset(address, query = "", signal = undefined) {
  const [head, tables] = await Promise.all(["asset", "tables"].map((what) => fetch(`${address}/${what}?${query}`, { signal })));
  if (head.status === 422) throw new Refused((await head.json()).problems);
  if (!head.ok || !tables.ok) throw new Error("The program could not draw this.");
  return readAsset(await head.json(), await tables.arrayBuffer());
}
