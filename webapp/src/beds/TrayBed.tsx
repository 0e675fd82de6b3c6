// Which bed a tray is planted in, or a new one.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { bedsByName } from './bed'
import { isNamed } from './bed_form'
import { BedFields } from './BedFields'
import { OneOf } from './OneOf'
import type { TrayForm } from './tray'

interface TrayBedProps {
  readonly form: TrayForm
  readonly onChange: (change: Partial<TrayForm>) => void
}

export function TrayBed({ form, onChange }: TrayBedProps) {
  const farm = useNotebook().farm.value
  const beds = bedsByName(farm)
  return (
    <section class="card">
      <h2 id="tray-bed">{t('tray.bed')}</h2>
      {beds.length > 0 && (
        <OneOf
          labelledBy="tray-bed" all={beds} at={form.bed} fresh={{ id: form.newBed, name: t('tray.bed.new') }}
          onChoose={(bed) => onChange({ bed, from: '1', to: '', gapsOnly: false })}
        />
      )}
      {!farm.beds.has(form.bed) && (
        <>
          <BedFields form={form.bedForm} unit={farm.unit} onChange={(change) => onChange({ bedForm: { ...form.bedForm, ...change } })} />
          {isNamed(farm, { id: form.newBed, name: form.bedForm.name }) && <p class="note warn">{t('bed_form.named')}</p>}
        </>
      )}
    </section>
  )
}
