// English of what may be promised.

export const enPromise = {
  'promise.title': 'Can I promise it?',
} as const
