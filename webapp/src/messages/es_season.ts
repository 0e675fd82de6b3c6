// Spanish of tasks and the weather.

export const esSeason = {
  'season.tasks': 'Qué hay que hacer',
} as const
