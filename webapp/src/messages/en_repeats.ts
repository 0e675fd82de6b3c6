// English of plants that were cut twice on one day.

export const enRepeats = {
  'repeats.title': { one: 'Cut twice, or one a repeat? {n}', other: 'Cut twice, or one a repeat? {n}' },
  'repeats.more': { one: '{n} more comes once these are settled.', other: '{n} more come once these are settled.' },
  'repeat.plant': 'a plant unknown here',
  'repeat.at': { one: '{plant}, {day}: recorded {n} time. Is one a repeat?', other: '{plant}, {day}: recorded {n} times. Is one a repeat?' },
  'repeat.notice': { one: 'Recorded {n} time: is one a repeat?', other: 'Recorded {n} times: is one a repeat?' },
  'repeat.sum': { one: 'Until it is answered they count together: {n} stem.', other: 'Until it is answered they count together: {n} stems.' },
  'repeat.somebody': 'somebody',
  'repeat.what': { one: '{name}, {n} stem, {at}', other: '{name}, {n} stems, {at}' },
  'repeat.both': 'Both were cut',
  'repeat.all': 'All were cut',
  'repeat.one': 'A repeat, take away: {what}',
  'repeat.answered.both': 'Noted: all were cut.',
  'repeat.answered.one': 'Taken away as a repeat: {what}.',
} as const
