// English of tasks and the weather.

export const enSeason = {
  'season.tasks': 'What is to be done',
} as const
