package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"

	"gorm.io/gorm"

	"corymb/internal/changelog"
)

// State reads the merge state and the arrival number of the last change in it.
func (s *Store) State(ctx context.Context) (*changelog.State, int64, error) {
	return s.readState(ctx, "reading the farm", &slotRow{})
}

// Entity reads the merge state of one entity, in a state that holds nothing else.
func (s *Store) Entity(ctx context.Context, entityType, id string) (*changelog.State, error) {
	state, _, err := s.readState(ctx, "reading "+entityType+" "+id, &slotRow{Type: entityType, ID: id})
	return state, err
}

// readState reads the slots that are like one, and how far the log was at that moment.
func (s *Store) readState(ctx context.Context, doing string, like *slotRow) (state *changelog.State, newest int64, err error) {
	like.FarmID = s.farm
	err = s.view.WithContext(ctx).Transaction(func(tx *gorm.DB) error {
		var farm farmRow
		if err := tx.First(&farm, "id = ?", s.farm).Error; err != nil {
			return err
		}
		newest = farm.NextArrival - 1
		state, err = readSlots(tx.Model(&slotRow{}).Where(like))
		return err
	})
	return state, newest, explain(doing, err)
}

func readSlots(query *gorm.DB) (*changelog.State, error) {
	rows, err := query.Select("type, id, op, field, part, entry_op, value, extra, order_l, order_c, incarnation, seq, person").Rows()
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	state := changelog.NewState()
	for rows.Next() {
		if err := readSlot(rows, state); err != nil {
			return nil, err
		}
	}
	return state, rows.Err()
}

func readSlot(rows *sql.Rows, into *changelog.State) error {
	var key changelog.EntityKey
	var slot changelog.SlotKey
	var e changelog.Entry
	var value, extra sql.RawBytes
	err := rows.Scan(&key.Type, &key.ID, &slot.Op, &slot.Field, &slot.Part, &e.Op, &value, &extra,
		&e.Order.L, &e.Order.C, &e.Incarnation, &e.Seq, &e.Person)
	if err != nil {
		return err
	}
	if err := e.Value.UnmarshalJSON(value); err != nil {
		return fmt.Errorf("the value of %s %s %s: %w", key.Type, key.ID, slot.Field, err)
	}
	if len(extra) > 0 {
		if err := json.Unmarshal(extra, &e.Extra); err != nil {
			return fmt.Errorf("the extra parts of %s %s %s: %w", key.Type, key.ID, slot.Field, err)
		}
	}
	into.Put(key, slot, e)
	return nil
}
