// Spanish of the way through a day in the shed.

export const esShedDay = {
  'shed_day.title': 'Un día en el galpón',
  'shed_day.orders': 'Pedidos',
  'shed_day.orders.next': { one: '{day}: {n} entrega', other: '{day}: {n} entregas' },
  'shed_day.orders.none': 'ninguno en dos semanas',
  'shed_day.packing': 'Armado',
  'shed_day.packing.next': { one: '{n} de {all} manojos armado', other: '{n} de {all} manojos armados' },
  'shed_day.packing.none': 'no hay nada que entregar',
  'shed_day.cooler': 'Cámara fría',
  'shed_day.cooler.stems': { one: '{n} tallo para vender', other: '{n} tallos para vender' },
  'shed_day.cooler.last': { one: '{n} tallo para vender, {last} a más tardar hoy', other: '{n} tallos para vender, {last} a más tardar hoy' },
  'shed_day.papers': 'Papeles',
  'shed_day.papers.what': 'etiquetas, notas, facturas',
  'shed_day.availability': 'Disponibilidad',
  'shed_day.availability.what': 'lo que aún se puede vender',
}
