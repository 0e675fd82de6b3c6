// English of the division plan.

export const enDivision = {
  'division.title': 'What to divide',
} as const
