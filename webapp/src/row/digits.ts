// Handfuls above nine take two digits.

/** What a digit comes to: a count, or undefined where a second digit is awaited. */
export function pressed(tens: number | undefined, digit: number): number | undefined {
  if (tens === undefined) return digit
  return tens === 0 ? undefined : tens * 10 + digit
}
