// Spanish of the first page of what is ahead, and of the forecast.

export const esAhead = {
  'ahead.title': 'Por venir',
  'ahead.ways': 'Qué hacer con eso',
} as const
