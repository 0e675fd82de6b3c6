// Plants that no plan divides, since their stock is protected.

import { protectedStock } from '../crop/lineage'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'

export function ProtectedStock() {
  const farm = useNotebook().farm.value
  const plants = new Map<string, number>()
  for (const plant of farm.plants.values()) {
    const name = plant.removed === '' ? protectedStock(farm, plant)?.name : undefined
    if (name !== undefined) plants.set(name, (plants.get(name) ?? 0) + 1)
  }
  if (plants.size === 0) return null
  return (
    <section class="card">
      <h2><Icon name="lock" /> {t('division.protected')}</h2>
      <p>{t('division.protected.text')}</p>
      <ul class="reasons">{[...plants].map(([name, n]) => <li key={name}>{t('division.protected.plants', { n, stock: name })}</li>)}</ul>
    </section>
  )
}
