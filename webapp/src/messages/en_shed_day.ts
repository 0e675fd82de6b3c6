// English of the way through a day in the shed.

export const enShedDay = {
  'shed_day.title': 'A day in the shed',
  'shed_day.orders': 'Orders',
  'shed_day.orders.next': { one: '{day}: {n} delivery', other: '{day}: {n} deliveries' },
  'shed_day.orders.none': 'none for two weeks',
  'shed_day.packing': 'Packing',
  'shed_day.packing.next': { one: '{n} of {all} bunches packed', other: '{n} of {all} bunches packed' },
  'shed_day.packing.none': 'nothing is due',
  'shed_day.cooler': 'Cooler',
  'shed_day.cooler.stems': { one: '{n} stem to sell', other: '{n} stems to sell' },
  'shed_day.cooler.last': { one: '{n} stem to sell, {last} today at the latest', other: '{n} stems to sell, {last} today at the latest' },
  'shed_day.papers': 'Papers',
  'shed_day.papers.what': 'slips, notes, invoices',
  'shed_day.availability': 'Availability',
  'shed_day.availability.what': 'what could still be sold',
} as const
