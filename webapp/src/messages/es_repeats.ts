// Spanish of plants that were cut twice on one day.

export const esRepeats = {
  'repeats.title': { one: '¿Cortada dos veces o repetida? {n}', other: '¿Cortadas dos veces o repetidas? {n}' },
  'repeats.more': { one: '{n} más viene cuando estas estén resueltas.', other: '{n} más vienen cuando estas estén resueltas.' },
  'repeat.plant': 'una planta que aquí no se conoce',
  'repeat.at': { one: '{plant}, {day}: anotada {n} vez. ¿Una es repetida?', other: '{plant}, {day}: anotada {n} veces. ¿Una es repetida?' },
  'repeat.notice': { one: 'Anotada {n} vez: ¿una es repetida?', other: 'Anotada {n} veces: ¿una es repetida?' },
  'repeat.sum': { one: 'Hasta que se responda cuentan juntas: {n} tallo.', other: 'Hasta que se responda cuentan juntas: {n} tallos.' },
  'repeat.somebody': 'alguien',
  'repeat.what': { one: '{name}, {n} tallo, {at}', other: '{name}, {n} tallos, {at}' },
  'repeat.both': 'Se cortaron las dos veces',
  'repeat.all': 'Se cortaron todas las veces',
  'repeat.one': 'Repetida, quitar: {what}',
  'repeat.answered.both': 'Anotado: se cortaron todas.',
  'repeat.answered.one': 'Quitada por repetida: {what}.',
} as const
