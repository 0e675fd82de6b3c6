// A QR code, dark on light in either theme, with the quiet zone of four modules that readers need
// (ISO/IEC 18004, from memory).

import { useMemo } from 'preact/hooks'

const quiet = 4

interface QrCodeProps {
  readonly rows: readonly string[]
  readonly label: string
}

export function QrCode({ rows, label }: QrCodeProps) {
  const side = rows.length + 2 * quiet
  const path = useMemo(() => modulesPath(rows), [rows])
  return (
    <svg class="qr" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={side} height={side} fill="#ffffff" />
      <path d={path} fill="#000000" />
    </svg>
  )
}

/** A rectangle for each run of dark modules. */
export function modulesPath(rows: readonly string[]): string {
  return rows.map((row, y) => [...row.matchAll(/1+/g)].map((run) => `M${run.index + quiet} ${y + quiet}h${run[0].length}v1h-${run[0].length}z`).join('')).join('')
}
