// English of the keys of a keypad or a button.

export const enKeys = {
  'keys.title': 'Keys of a keypad or button',
  'keys.what': 'A keypad or button that this device takes for a keyboard counts on a walk without a look at the screen, also while that is locked. Choose which key does what: the usual keys go on working.',
  'keys.passed_on': 'What the browser does not pass on cannot be chosen. Volume keys and most media keys, the camera button of a phone and the buttons of headphones stay with the phone; some Bluetooth buttons can be switched to send a letter, Enter or Page Down instead.',
  'keys.focus': 'Where Enter or the space bar is chosen, on a walk it does that, and no longer presses the button in focus.',
  'keys.list': 'What a key does, and which',
  'keys.press': 'Press the key now: {action}',
  'keys.press.how': 'Nothing happens? Then the browser does not pass this key on.',
  'keys.choose': 'Choose a key: {action}',
  'keys.choose.short': 'Choose',
  'keys.clear': 'Take the chosen key off: {action}',
  'keys.clear.short': 'Take off',
  'keys.none': 'no key',
  'keys.chosen': '{key} now does: {action}.',
  'keys.chosen.instead': '{key} now does: {action}. It did before: {before}.',
  'keys.unnamed': 'The browser passes this key on without saying which it is, so it cannot be chosen.',
  'keys.cleared': 'The chosen key is off: {action}.',
  'keys.reset': 'Back to the usual keys',
  'keys.reset.done': 'The usual keys hold again.',
  'keys.usual': 'These are the usual keys.',

  'key.do.digit': 'the digit {n}',
  'key.do.0': '0: nothing here, or the second digit',
  'key.do.more': 'ten and more, two digits follow',
  'key.do.nothing': 'nothing here, and on',
  'key.do.next': 'next plant',
  'key.do.previous': 'plant before',
  'key.do.back': 'take back',
  'key.do.again': 'grid: one more in the last cell',

  'key.name.space': 'Space bar',
  'key.name.at': 'the key {code}',

  'failure.no_cell': 'Nothing counted: this key counts where the last stem was counted, and none was yet today. Tap a cell of the grid once, then use the key.',
} as const
