// What little linear algebra the measuring needs: small symmetric systems, and 3 by 3 matrices by rows.
//
// Of our own, since it is sixty lines and no system here has more than some twenty unknowns.

/**
 * The lower Cholesky factor of a symmetric positive definite matrix of n by n, by rows; undefined where it is not
 * positive definite. Source: Golub and Van Loan, Matrix Computations, 4th edition, algorithm 4.2.2.
 */
export function cholesky(matrix: Float64Array, n: number): Float64Array | undefined {
  const factor = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j]!
      for (let k = 0; k < j; k++) sum -= factor[i * n + k]! * factor[j * n + k]!
      if (i !== j) factor[i * n + j] = sum / factor[j * n + j]!
      else if (sum > 0) factor[i * n + i] = Math.sqrt(sum)
      else return undefined
    }
  }
  return factor
}

/** Solves for one right side by the lower factor. */
export function solved(factor: Float64Array, n: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= factor[i * n + k]! * x[k]!
    x[i]! /= factor[i * n + i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= factor[k * n + i]! * x[k]!
    x[i]! /= factor[i * n + i]!
  }
  return x
}

/** The inverse by the lower factor. */
export function inverted(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n)
  const unit = new Float64Array(n)
  for (let j = 0; j < n; j++) {
    unit.fill(0)
    unit[j] = 1
    const column = solved(factor, n, unit)
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]!
  }
  return inverse
}

/** Nine numbers by rows. */
export type Nine = readonly [number, number, number, number, number, number, number, number, number]

/** The inverse by cofactors; its numbers are not finite where there is none. */
export function inverse3([a, b, c, d, e, f, g, h, i]: Nine): Nine {
  const [p, q, r] = [e * i - f * h, f * g - d * i, d * h - e * g]
  const s = 1 / (a * p + b * q + c * r)
  return [p * s, (c * h - b * i) * s, (b * f - c * e) * s, q * s, (a * i - c * g) * s, (c * d - a * f) * s, r * s, (b * g - a * h) * s, (a * e - b * d) * s]
}

export function product3(m: Nine, n: Nine): Nine {
  const at = (i: number, j: number) => m[3 * i]! * n[j]! + m[3 * i + 1]! * n[3 + j]! + m[3 * i + 2]! * n[6 + j]!
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)]
}

/** gᵀ C g of a symmetric matrix by rows. */
export function variance(gradient: ArrayLike<number>, covariance: Float64Array): number {
  const n = gradient.length
  let sum = 0
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += gradient[i]! * covariance[i * n + j]! * gradient[j]!
  return sum
}
