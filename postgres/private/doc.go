// Package private runs the program's own PostgreSQL: a direct child process that listens on a unix socket in the
// program's data folder and on no network. It is what Clayline uses when nobody gave it a DATABASE_URL.
//
// # The model
//
// The data folder DIR belongs to one running program. Everything in it has a fixed name:
//
//	DIR/lock           held with flock for as long as the program lives
//	DIR/data           the cluster; either absent or whole, since initdb works in DIR/data.new-… which is then renamed
//	DIR/run            the folder of the socket, open to the cluster's user (and root) alone
//	DIR/socket         only when DIR is too long for a socket: a link to a short folder that has it instead
//	DIR/postgres.log   what PostgreSQL said, cut at a start when it has grown large
//
// PostgreSQL refuses to run as root. Started by root, the child therefore becomes another user: the owner of the data,
// else "postgres", else "nobody". That user must be able to reach the folder, which is tried before anything is made.
//
// Nobody is left behind and nothing is lost, whoever dies first. When the program is killed the kernel sends the child
// SIGINT, on which it writes its checkpoint and ends. When the child is killed the program starts it again. What another
// cause left running over the data is stopped before a start. A cluster of another major version is refused and never
// touched; the package removes nothing but what it made itself and has not finished, or has finished with.
//
// # A start, worked
//
//	db, err := private.Start(ctx, private.Options{Dir: "/var/lib/clayline"})
//	if err != nil {
//		return err // a sentence that says what to do
//	}
//	defer db.Stop(context.Background())
//	pool, err := pgxpool.New(ctx, db.URL())
//
// The first start takes about a second, most of it initdb; each later one about 40 ms.
package private
