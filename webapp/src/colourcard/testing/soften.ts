// What lens and hand take from a picture's sharpness.

export interface Softness {
  /** Pixels, standard deviation. */
  readonly blur: number
  /** Pixels, and degrees clockwise from the right. */
  readonly motion: number
  readonly motionAt: number
}

/** In place. */
export function soften(plane: Float32Array, width: number, height: number, { blur, motion, motionAt }: Softness): void {
  if (blur > 1.5) boxes(plane, width, height, blur)
  else if (blur > 0) gaussian(plane, width, height, blur)
  if (motion >= 1) moved(plane, width, height, motion, motionAt)
}

function gaussian(plane: Float32Array, width: number, height: number, sigma: number): void {
  const half = Array.from({ length: Math.max(2, Math.ceil(2.6 * sigma) + 1) }, (_, d) => Math.exp((-d * d) / (2 * sigma * sigma)))
  const sum = 2 * half.reduce((a, b) => a + b) - half[0]!
  const kernel = half.map((v) => v / sum)
  const reach = kernel.length - 1
  const other = plane.slice()
  const line = new Float32Array(width + 2 * reach)
  for (let y = 0; y < height; y++) {
    padded(line, other.subarray(y * width, (y + 1) * width), reach)
    const out = plane.subarray(y * width, (y + 1) * width)
    weighed(out, line.subarray(reach, reach + width), kernel[0]!)
    for (let d = 1; d <= reach; d++) added(out, line.subarray(reach - d, reach - d + width), line.subarray(reach + d, reach + d + width), kernel[d]!)
  }
  other.set(plane)
  const row = rowsOf(other, width, height)
  for (let y = 0; y < height; y++) {
    const out = plane.subarray(y * width, (y + 1) * width)
    weighed(out, row(y), kernel[0]!)
    for (let d = 1; d <= reach; d++) added(out, row(y - d), row(y + d), kernel[d]!)
  }
}

/** With its ends repeated. */
function padded(line: Float32Array, row: Float32Array, by: number): void {
  line.set(row, by)
  line.fill(row[0]!, 0, by)
  line.fill(row[row.length - 1]!, by + row.length)
}

/** Rows by their number; the first and the last go on beyond the edges. */
function rowsOf(plane: Float32Array, width: number, height: number): (y: number) => Float32Array {
  return (y) => {
    const start = Math.min(height - 1, Math.max(0, y)) * width
    return plane.subarray(start, start + width)
  }
}

function weighed(out: Float32Array, one: Float32Array, by: number): void {
  for (let i = 0; i < out.length; i++) out[i] = by * one[i]!
}

function added(out: Float32Array, one: Float32Array, other: Float32Array, by: number): void {
  for (let i = 0; i < out.length; i++) out[i] = out[i]! + by * (one[i]! + other[i]!)
}

/** Three boxes each way come near to a Gaussian, and are as quick for wide ones. */
function boxes(plane: Float32Array, width: number, height: number, sigma: number): void {
  // The variance of a box of 2h + 1, h being half a pixel less than half of its breadth; its ends weigh by the part
  // of a pixel that h has.
  const h = Math.sqrt(sigma * sigma + 0.25) - 0.5
  const [whole, part] = [Math.floor(h), h % 1]
  const line = new Float32Array(width + 2 * (whole + 1))
  for (let y = 0; y < height; y++) {
    const row = plane.subarray(y * width, (y + 1) * width)
    for (let pass = 0; pass < 3; pass++) {
      padded(line, row, whole + 1)
      boxed(line, row, whole, part)
    }
  }
  const other = new Float32Array(plane.length)
  boxedDown(plane, other, width, height, whole, part)
  boxedDown(other, plane, width, height, whole, part)
  boxedDown(plane, other, width, height, whole, part)
  plane.set(other)
}

function boxed(line: Float32Array, row: Float32Array, whole: number, part: number): void {
  const by = 1 / (2 * (whole + part) + 1)
  const breadth = 2 * whole + 1
  let sum = 0
  for (let i = 1; i <= breadth; i++) sum += line[i]!
  for (let x = 0; x < row.length; x++) {
    const left = line[x]!
    const right = line[x + breadth + 1]!
    row[x] = by * (sum + part * (left + right))
    sum += right - line[x + 1]!
  }
}

function boxedDown(from: Float32Array, to: Float32Array, width: number, height: number, whole: number, part: number): void {
  const row = rowsOf(from, width, height)
  const by = 1 / (2 * (whole + part) + 1)
  const sums = new Float32Array(width)
  for (let d = -whole; d <= whole; d++) added(sums, row(d), row(d), 0.5)
  for (let y = 0; y < height; y++) slid(to.subarray(y * width, (y + 1) * width), sums, row(y - whole - 1), row(y - whole), row(y + whole + 1), by, part)
}

function slid(out: Float32Array, sums: Float32Array, above: Float32Array, leaves: Float32Array, comes: Float32Array, by: number, part: number): void {
  for (let x = 0; x < out.length; x++) {
    const sum = sums[x]!
    const next = comes[x]!
    out[x] = by * (sum + part * (above[x]! + next))
    sums[x] = sum + next - leaves[x]!
  }
}

/** How many places along its way are added up; what is moved is blurred too, so that steps between them do not show. */
const mostPlaces = 9

function moved(plane: Float32Array, width: number, height: number, length: number, angle: number): void {
  const from = plane.slice()
  const n = Math.min(mostPlaces, Math.round(length) + 1)
  const [dx, dy] = [(length * Math.cos((angle * Math.PI) / 180)) / n, (length * Math.sin((angle * Math.PI) / 180)) / n]
  const row = rowsOf(from, width, height)
  plane.fill(0)
  const most = Math.ceil(length)
  const line = new Float32Array(width + 2 * most)
  for (let k = 0; k < n; k++) {
    const [sx, sy] = [Math.round((k - (n - 1) / 2) * dx), Math.round((k - (n - 1) / 2) * dy)]
    for (let y = 0; y < height; y++) {
      padded(line, row(y + sy), most)
      const one = line.subarray(most + sx, most + sx + width)
      added(plane.subarray(y * width, (y + 1) * width), one, one, 0.5 / n)
    }
  }
}
