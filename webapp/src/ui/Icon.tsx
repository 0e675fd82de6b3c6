// Line icons of our own drawing on a 24-unit square.

const shapes = {
  row: 'M4 20h16M7 20c0-5 1-7 5-12M12 8c3 3 4 6 5 12M8 5a4 4 0 0 1 8 0z',
  shed: 'M3 20V9l9-5 9 5v11M8 20v-7h8v7',
  beds: 'M6 3h12a2 2 0 0 1 2 2v14a2 2 0 0 1-2 2H6a2 2 0 0 1-2-2V5a2 2 0 0 1 2-2zM9 7.5v1M15 7.5v1M9 12v1M15 12v1M9 16.5v1M15 16.5v1',
  back: 'M15 5l-7 7 7 7',
  undo: 'M9 6L4 11l5 5M4 11h10a6 6 0 0 1 6 6v1',
  grid: 'M4 4h16v16H4zM4 9.3h16M4 14.6h16M9.3 4v16M14.6 4v16',
  numbers: 'M5 7l2.5-2v8M12 6.5a2.2 2.2 0 1 1 4 1.5L12 13h5M6 19h12',
  list: 'M8 6h12M8 12h12M8 18h12M4 6h.01M4 12h.01M4 18h.01',
  check: 'M5 12.5l4.5 4.5L19 7.5',
  up: 'M12 19V5M6 11l6-6 6 6',
  away: 'M7 18a4 4 0 0 1-.6-7.9A6 6 0 0 1 17 8.5a4.5 4.5 0 0 1 2.6 7.6M4 4l16 16',
  warn: 'M12 4l9 16H3zM12 10v4M12 17v.01',
  care: 'M8 12V5.5a1.5 1.5 0 0 1 3 0V11M11 10V4a1.5 1.5 0 0 1 3 0v7M14 11V6a1.5 1.5 0 0 1 3 0v8a6 6 0 0 1-6 6c-3 0-4.500-1.500-5.500-4L4 12.500c-.8-2 1.500-3 2.500-1.300L8 13.500',
  settings: 'M4 7h9M17 7h3M4 17h3M11 17h9M15 4.500v5M9 14.500v5',
  ages: 'M4 20h16M7 16v-3M12 16V6M17 16V9M5.500 13h3M10.500 6h3M15.500 9h3',
  phones: 'M5 3h7a1.500 1.500 0 0 1 1.500 1.500v15A1.500 1.500 0 0 1 12 21H5a1.500 1.500 0 0 1-1.500-1.500v-15A1.500 1.500 0 0 1 5 3zM7.500 18h2M16.500 7.500h2.500a1.500 1.500 0 0 1 1.500 1.500v9a1.500 1.500 0 0 1-1.500 1.500h-2.500',
  share: 'M12 15V3M8 7l4-4 4 4M7 10H6a1 1 0 0 0-1 1v9a1 1 0 0 0 1 1h12a1 1 0 0 0 1-1v-9a1 1 0 0 0-1-1h-1',
  camera: 'M4 8h3.500l1.500-2.500h6L16.500 8H20a1 1 0 0 1 1 1v9a1 1 0 0 1-1 1H4a1 1 0 0 1-1-1V9a1 1 0 0 1 1-1zM12 10a3.300 3.300 0 1 0 0 6.600a3.300 3.300 0 1 0 0-6.600',
  picture: 'M4 5h16a1 1 0 0 1 1 1v12a1 1 0 0 1-1 1H4a1 1 0 0 1-1-1V6a1 1 0 0 1 1-1zM3 16l5-5 4 4 3-3 6 5M16 9h.01',
  save: 'M12 4v11M7 11l5 5 5-5M4 20h16',
  field: 'M5 12.500l4.500 4.500L19 7.500M3 21h18',
} as const

export type IconName = keyof typeof shapes

export function Icon({ name }: { readonly name: IconName }) {
  return <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d={shapes[name]} /></svg>
}
