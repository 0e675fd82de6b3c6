// Spanish of the keys of a keypad or a button.

export const esKeys = {
  'keys.title': 'Teclas de un teclado o botón',
  'keys.what': 'Un teclado o botón que este aparato toma por teclado cuenta en el recorrido sin mirar la pantalla, también cuando está bloqueada. Elija qué tecla hace qué: las de siempre siguen valiendo.',
  'keys.passed_on': 'Lo que el navegador no deja pasar no se puede elegir. Las teclas de volumen y casi todas las de música, el botón de la cámara y los botones de audífonos se quedan en el teléfono; algunos botones Bluetooth se pueden cambiar para que envíen una letra, Intro o Av Pág.',
  'keys.focus': 'Si se elige Intro o la barra espaciadora, en el recorrido hace eso, y ya no pulsa el botón enfocado.',
  'keys.list': 'Qué hace una tecla, y cuál',
  'keys.press': 'Pulse la tecla ahora: {action}',
  'keys.press.how': '¿No pasa nada? Entonces el navegador no deja pasar esta tecla.',
  'keys.choose': 'Elegir una tecla: {action}',
  'keys.choose.short': 'Elegir',
  'keys.clear': 'Quitar la tecla elegida: {action}',
  'keys.clear.short': 'Quitar',
  'keys.none': 'sin tecla',
  'keys.chosen': '{key} hace ahora: {action}.',
  'keys.chosen.instead': '{key} hace ahora: {action}. Antes hacía: {before}.',
  'keys.unnamed': 'El navegador deja pasar esta tecla sin decir cuál es, así que no se puede elegir.',
  'keys.cleared': 'Se quitó la tecla elegida: {action}.',
  'keys.reset': 'Volver a las teclas de siempre',
  'keys.reset.done': 'Valen de nuevo las teclas de siempre.',
  'keys.usual': 'Estas son las teclas de siempre.',

  'key.do.digit': 'la cifra {n}',
  'key.do.0': '0: nada aquí, o la segunda cifra',
  'key.do.more': 'diez o más, siguen dos cifras',
  'key.do.nothing': 'nada aquí, y seguir',
  'key.do.next': 'planta siguiente',
  'key.do.previous': 'planta anterior',
  'key.do.back': 'quitar lo último',
  'key.do.again': 'tabla: uno más en la última casilla',

  'key.name.space': 'Barra espaciadora',
  'key.name.at': 'la tecla {code}',

  'failure.no_cell': 'No se contó nada: esta tecla cuenta donde se contó el último tallo, y hoy aún no hay ninguno. Toque una vez una casilla de la tabla y use luego la tecla.',
} as const
