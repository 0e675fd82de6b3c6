// Spanish of the division plan.

export const esDivision = {
  'division.title': 'Qué dividir',
} as const
