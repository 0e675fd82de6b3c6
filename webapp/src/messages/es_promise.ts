// Spanish of what may be promised.

export const esPromise = {
  'promise.title': '¿Puedo prometerlo?',
} as const
