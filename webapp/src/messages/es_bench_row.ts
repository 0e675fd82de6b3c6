// Spanish of the bench beside the row.

export const esBenchRow = {
  'bench_row.title': 'Surco y mesa',
  'bench_row.at_least': 'al menos {stems}',
  'bench_row.none': 'Surco {row}; aún nada en la mesa.',
  'bench_row.same': 'Surco {row}, mesa {bench}: **lo mismo**.',
  'bench_row.fewer': { one: 'Surco {row}, mesa {bench}: **{n} menos en la mesa**.', other: 'Surco {row}, mesa {bench}: **{n} menos en la mesa**.' },
  'bench_row.more': { one: 'Surco {row}, mesa {bench}: **{n} más en la mesa**.', other: 'Surco {row}, mesa {bench}: **{n} más en la mesa**.' },
  'bench_row.sides': 'Surco {row}, mesa {bench}.',
  'bench_row.part.fewer': { one: 'Surco {row}, mesa {bench}: **al menos {n} menos en la mesa**.', other: 'Surco {row}, mesa {bench}: **al menos {n} menos en la mesa**.' },
  'bench_row.part.more': { one: 'Surco {row}, mesa {bench}: **al menos {n} más en la mesa**.', other: 'Surco {row}, mesa {bench}: **al menos {n} más en la mesa**.' },
  'bench_row.part': 'En el surco se contó solo una parte, así que no se compara como un todo.',
  'bench_row.bench_part': 'En la mesa se contó solo una parte, así que no se compara como un todo.',
  'bench_row.check.fewer': 'Conviene mirar: un balde sin contar; tallos tirados en el surco; tallos descartados que quedaron fuera de la cuenta; un teléfono que no ha enviado su total de mesa.',
  'bench_row.check.more': 'Conviene mirar: un balde de otra cama o de otro día; un corte en el surco que nadie contó; un teléfono que no ha enviado lo que contó en el surco.',
  'bench_row.by_colour': 'Por clase de color',
  'bench_row.by_grade': 'Por grado',
  'bench_row.row': 'Surco',
  'bench_row.row.part': 'Surco, al menos',
  'bench_row.bench': 'Mesa',
  'bench_row.bench.part': 'Mesa, al menos',
  'bench_row.difference': 'Mesa menos surco',
} as const
