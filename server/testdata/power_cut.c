/*
 * Runs a server and keeps beside its data folder what a power cut would leave of it:
 *
 *   power_cut PROGRAM ARGUMENT...
 *
 * The system asks it (seccomp_unotify(2)) before each fsync and fdatasync of the program, whichever way
 * they are called. What they are asked to sync, and nothing else, is copied into a folder that plays the
 * disk. It assumes no more of a file system than POSIX promises: a synced file has its bytes and its
 * length, but a name only once its folder is synced as well.
 *
 *   DISK_OF      the data folder, an absolute path without links in it
 *   DISK         the disk: an empty folder on the same file system, with
 *                  inode/N   the synced bytes of the file with inode N
 *                  name/X    what the name X holds: a hard link to one of those
 *   DISK_LOSES   a file whose name ends so is never synced, though it is said to be
 *   DISK_CUTS    the power is cut when a file is to be synced for the n-th time, before any of it is
 *
 * What was in the data folder at the start is on the disk. The real fsync is not called, for the live
 * files are only ever read through the page cache. Folders inside the data folder are not on the disk:
 * what is in them has proofs of its own. Files named *-shm are left out: SQLite never syncs
 * its shared memory and makes it anew after a crash.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <poll.h>
#include <signal.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

/* A sync takes about as long as on a slow disk: a kill then falls into it often enough. */
#define SYNC_MICROSECONDS 5000

static const char *folder, *disk, *loses;
static long syncs_left = -1; /* until the power is cut; below zero for never */

/* The test must not go on with a disk that is not as it says. */
static void give_up(const char *doing, const char *what)
{
	fprintf(stderr, "power_cut: %s %s: %s\n", doing, what, strerror(errno));
	abort();
}

static int ends_with(const char *text, const char *end)
{
	size_t n = strlen(text), m = strlen(end);
	return n >= m && strcmp(text + n - m, end) == 0;
}

static void inode_path(char *path, ino_t inode)
{
	snprintf(path, PATH_MAX, "%s/inode/%llu", disk, (unsigned long long)inode);
}

/* Opens the disk's file with an inode to write to it. The live file stays open when it is met for the
 * first time: were it deleted, another could else get its inode's number, and its bytes with it. */
static int open_inode(ino_t inode, const char *live)
{
	char path[PATH_MAX];

	inode_path(path, inode);
	int copy = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
	if (copy >= 0 && open(live, O_RDONLY | O_CLOEXEC) < 0 && errno != ENOENT)
		give_up("holding", live);
	if (copy < 0 && errno == EEXIST)
		copy = open(path, O_WRONLY | O_CLOEXEC);
	if (copy < 0)
		give_up("opening", path);
	return copy;
}

/* Makes the disk's file with an inode as long as the live one is and gives it the same bytes. */
static void sync_file(const char *path)
{
	static char buffer[1 << 20];
	struct stat status;
	ssize_t n;
	off_t at = 0;

	int live = open(path, O_RDONLY | O_CLOEXEC);
	if (live < 0 || fstat(live, &status) != 0)
		give_up("opening", path);
	if (S_ISREG(status.st_mode) && status.st_nlink > 0) { /* else it has no name to be found by any more */
		int copy = open_inode(status.st_ino, path);
		while ((n = pread(live, buffer, sizeof buffer, at)) > 0) {
			if (pwrite(copy, buffer, (size_t)n, at) != n)
				give_up("writing what was synced of", path);
			at += n;
		}
		if (n < 0 || ftruncate(copy, at) != 0 || close(copy) != 0)
			give_up("copying", path);
	}
	close(live);
}

/* Makes one name of the disk hold the file that it has in the data folder. */
static void sync_name(const char *name)
{
	struct stat status;
	char live[PATH_MAX], inode[PATH_MAX], fresh[PATH_MAX], path[PATH_MAX];

	snprintf(live, sizeof live, "%s/%s", folder, name);
	if (stat(live, &status) != 0) {
		if (errno == ENOENT)
			return; /* the program took it away just now */
		give_up("looking at", live);
	}
	if (!S_ISREG(status.st_mode) || ends_with(name, "-shm"))
		return;
	close(open_inode(status.st_ino, live)); /* empty if never synced */
	inode_path(inode, status.st_ino);
	snprintf(fresh, sizeof fresh, "%s/fresh", disk);
	snprintf(path, sizeof path, "%s/name/%s", disk, name);
	unlink(fresh);
	if (link(inode, fresh) != 0 || rename(fresh, path) != 0)
		give_up("naming", path);
	unlink(fresh); /* rename does nothing where both are the same file already */
}

static void each_name(const char *in, void (*visit)(const char *name))
{
	DIR *listing = opendir(in);
	struct dirent *entry;

	if (!listing)
		give_up("listing", in);
	while ((entry = readdir(listing)))
		if (entry->d_name[0] != '.')
			visit(entry->d_name);
	closedir(listing);
}

static void drop_name_if_gone(const char *name)
{
	char live[PATH_MAX], path[PATH_MAX];

	snprintf(live, sizeof live, "%s/%s", folder, name);
	snprintf(path, sizeof path, "%s/name/%s", disk, name);
	if (access(live, F_OK) != 0 && unlink(path) != 0)
		give_up("dropping", path);
}

static void sync_folder(void)
{
	char names[PATH_MAX];

	snprintf(names, sizeof names, "%s/name", disk);
	each_name(folder, sync_name);
	each_name(names, drop_name_if_gone);
}

static void sync_at_start(const char *name)
{
	char path[PATH_MAX];

	snprintf(path, sizeof path, "%s/%s", folder, name);
	sync_file(path);
}

static void start(void)
{
	char path[PATH_MAX];

	folder = getenv("DISK_OF");
	disk = getenv("DISK");
	loses = getenv("DISK_LOSES");
	if (getenv("DISK_CUTS"))
		syncs_left = atol(getenv("DISK_CUTS"));
	if (!folder || !disk) {
		fprintf(stderr, "power_cut: DISK_OF and DISK must be set\n");
		abort();
	}
	for (int i = 0; i < 2; i++) {
		snprintf(path, sizeof path, "%s/%s", disk, i ? "inode" : "name");
		if (mkdir(path, 0700) != 0)
			give_up("making", path);
	}
	each_name(folder, sync_at_start);
	sync_folder();
}

/* Has the system ask before each sync of this process and of those that come from it. */
static int listen_to_syncs(void)
{
	struct sock_filter filter[] = {
		BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(struct seccomp_data, nr)),
		BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, __NR_fsync, 1, 0),
		BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, __NR_fdatasync, 0, 1),
		BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_USER_NOTIF),
		BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
	};
	struct sock_fprog program = {sizeof filter / sizeof *filter, filter};

	if (prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0)
		give_up("giving up", "privileges");
	int listener = (int)syscall(SYS_seccomp, SECCOMP_SET_MODE_FILTER, SECCOMP_FILTER_FLAG_NEW_LISTENER, &program);
	if (listener < 0)
		give_up("listening to", "syncs, which needs Linux 5.5 and a sandbox that allows seccomp");
	return listener;
}

/* Tells what a thread syncs, if it is the data folder (an empty name) or lies in it. */
static int in_folder(const char *file, const char **name)
{
	static char path[PATH_MAX];
	size_t n = strlen(folder);

	ssize_t length = readlink(file, path, PATH_MAX - 1);
	if (length < 0)
		return 0;
	path[length] = 0;
	if (strncmp(path, folder, n) != 0 || (path[n] != 0 && path[n] != '/'))
		return 0;
	*name = path[n] ? path + n + 1 : path + n;
	return 1;
}

/* Syncs what the program is about to, and tells it so. Elsewhere than in the data folder it may itself. */
static void answer(int listener, pid_t program)
{
	struct seccomp_notif asked = {0};
	struct seccomp_notif_resp told = {0};
	char file[64];
	const char *name;

	if (ioctl(listener, SECCOMP_IOCTL_NOTIF_RECV, &asked) != 0) {
		if (errno == ENOENT || errno == EINTR)
			return; /* whoever asked was killed */
		give_up("hearing of", "a sync");
	}
	snprintf(file, sizeof file, "/proc/%u/fd/%llu", asked.pid, asked.data.args[0]);
	if (in_folder(file, &name)) {
		usleep(SYNC_MICROSECONDS);
		if (*name && syncs_left > 0 && --syncs_left == 0) {
			kill(program, SIGKILL);
			return;
		}
		if (ioctl(listener, SECCOMP_IOCTL_NOTIF_ID_VALID, &asked.id) != 0)
			return; /* killed meanwhile: its files may be gone */
		if (!*name)
			sync_folder();
		else if (!loses || !ends_with(name, loses))
			sync_file(file);
	} else {
		told.flags = SECCOMP_USER_NOTIF_FLAG_CONTINUE;
	}
	told.id = asked.id;
	if (ioctl(listener, SECCOMP_IOCTL_NOTIF_SEND, &told) != 0 && errno != ENOENT)
		give_up("answering", "a sync");
}

/* The program becomes this process, so that a signal meets it; what answers it is a child, which ends
 * once the program's end of a pipe is closed. */
int main(int argc, char **argv)
{
	int life[2];

	if (argc < 2) {
		fprintf(stderr, "usage: power_cut PROGRAM ARGUMENT...\n");
		return 2;
	}
	start();
	if (pipe(life) != 0)
		give_up("making", "a pipe");
	int listener = listen_to_syncs();
	pid_t program = getpid();
	pid_t child = fork();
	if (child < 0)
		give_up("starting", "a process");
	if (child > 0) {
		close(listener);
		close(life[0]);
		execv(argv[1], argv + 1);
		give_up("running", argv[1]);
	}
	close(life[1]);
	close(STDOUT_FILENO);
	struct pollfd either[] = {{.fd = listener, .events = POLLIN}, {.fd = life[0]}};
	for (;;) {
		if (poll(either, 2, -1) < 0 && errno != EINTR)
			give_up("waiting for", "a sync");
		if (either[1].revents)
			return 0;
		if (either[0].revents)
			answer(listener, program);
	}
}
