// English of the first page of what is ahead, and of the forecast.

export const enAhead = {
  'ahead.title': 'Ahead',
  'ahead.ways': 'What to do about it',
} as const
