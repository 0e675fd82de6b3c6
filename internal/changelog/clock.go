package changelog

import "corymb/syncproto"

// Clock is a hybrid logical clock (Kulkarni et al. 2014, "Logical Physical Clocks", figure 5). Its
// stamps strictly grow whatever the wall clock does. The zero Clock is ready.
type Clock struct {
	Last syncproto.Stamp // the newest stamp given or seen; keep it across restarts
}

// Tick stamps a local event. wall is the device's clock in milliseconds since 1970 UTC.
func (k *Clock) Tick(wall int64) syncproto.Stamp {
	if wall > k.Last.L {
		k.Last = syncproto.Stamp{L: min(wall, syncproto.MaxL)}
		return k.Last
	}
	k.Last = k.Last.Next()
	return k.Last
}

// Receive takes note of a remote stamp, so that later local stamps lie above it.
func (k *Clock) Receive(wall int64, remote syncproto.Stamp) syncproto.Stamp {
	l := max(k.Last.L, remote.L, min(wall, syncproto.MaxL))
	switch {
	case l == k.Last.L && l == remote.L:
		k.Last = syncproto.Stamp{L: l, C: max(k.Last.C, remote.C)}.Next()
	case l == k.Last.L:
		k.Last = k.Last.Next()
	case l == remote.L:
		k.Last = remote.Next()
	default:
		k.Last = syncproto.Stamp{L: l}
	}
	return k.Last
}

// orderSlack is how far ahead of the server's clock a device's stamp may count, in milliseconds.
const orderSlack = 60_000

// OrderFor is the order that the server gives to a change: its stamp, but no later than a minute
// past the server's own clock or one tick past the highest order given before the change's operation,
// whichever is later. So no wrong clock wins for ever, the orders of one incarnation grow with its
// operations, and the changes of one operation share their order as they share their stamp.
func OrderFor(stamp syncproto.Stamp, wall int64, highest syncproto.Stamp) syncproto.Stamp {
	limit := syncproto.Stamp{L: wall + orderSlack}
	if next := highest.Next(); next.Compare(limit) > 0 {
		limit = next
	}
	if stamp.Compare(limit) > 0 {
		return limit
	}
	return stamp
}
