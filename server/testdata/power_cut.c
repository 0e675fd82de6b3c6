/*
 * Keeps beside a data folder what a power cut would leave of it. Loaded by LD_PRELOAD into the server
 * under test, it stands in for fsync and fdatasync: what they are asked to sync, and nothing else, is
 * copied into a folder that plays the disk. It assumes no more of a file system than POSIX promises:
 * a synced file has its bytes and its length, but a name only once its folder is synced as well.
 *
 *   DISK_OF      the data folder, an absolute path without links in it
 *   DISK         the disk: an empty folder on the same file system, with
 *                  inode/N   the synced bytes of the file with inode N
 *                  name/X    what the name X holds: a hard link to one of those
 *   DISK_LOSES   a file whose name ends so is never synced, though it is said to be
 *   DISK_CUTS    the power is cut when a file is to be synced for the n-th time, before any of it is
 *
 * What was in the data folder at the start is on the disk. The real fsync is not called, for the live
 * files are only ever read through the page cache. Files named *-shm are left out: SQLite never syncs
 * its shared memory and makes it anew after a crash.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A sync takes about as long as on a slow disk: a kill then falls into it often enough. */
#define SYNC_MICROSECONDS 5000

static const char *folder, *disk, *loses;
static long syncs_left = -1; /* until the power is cut; below zero for never */
static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;

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

/* Makes the disk's file with an inode as long as the live one is and gives it the same bytes. Bytes
 * that were there already are written over by their like, so a kill midway leaves whole sectors. */
static void sync_file(int live, const char *name)
{
	static char buffer[1 << 20];
	struct stat status;
	char path[PATH_MAX];
	ssize_t n;
	off_t at = 0;

	if (fstat(live, &status) != 0)
		give_up("looking at", name);
	if (status.st_nlink == 0)
		return; /* it has no name to be found by any more */
	inode_path(path, status.st_ino);
	int copy = open(path, O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
	if (copy < 0)
		give_up("opening", path);
	while ((n = pread(live, buffer, sizeof buffer, at)) > 0) {
		if (pwrite(copy, buffer, (size_t)n, at) != n)
			give_up("writing", path);
		at += n;
	}
	if (n < 0 || ftruncate(copy, at) != 0 || close(copy) != 0)
		give_up("copying", name);
}

/* Makes one name of the disk hold the file that it has in the data folder. */
static void sync_name(const char *name)
{
	struct stat status;
	char live[PATH_MAX], inode[PATH_MAX], fresh[PATH_MAX], path[PATH_MAX];

	snprintf(live, sizeof live, "%s/%s", folder, name);
	if (stat(live, &status) != 0) {
		if (errno == ENOENT)
			return; /* another thread took it away just now */
		give_up("looking at", live);
	}
	if (!S_ISREG(status.st_mode) || ends_with(name, "-shm"))
		return;
	inode_path(inode, status.st_ino);
	int file = open(inode, O_WRONLY | O_CREAT | O_CLOEXEC, 0600); /* empty if never synced */
	if (file < 0 || close(file) != 0)
		give_up("making", inode);
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
	int file = open(path, O_RDONLY | O_CLOEXEC);
	if (file < 0)
		give_up("opening", path);
	sync_file(file, name);
	close(file); /* SQLite holds no lock yet that this would end */
}

__attribute__((constructor)) static void start(void)
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

/* Tells what is open there, if it is the data folder (an empty name) or lies in it. */
static int in_folder(int file, char *path, const char **name)
{
	char link[64];
	size_t n = strlen(folder);

	snprintf(link, sizeof link, "/proc/self/fd/%d", file);
	ssize_t length = readlink(link, path, PATH_MAX - 1);
	if (length < 0)
		return 0;
	path[length] = 0;
	if (strncmp(path, folder, n) != 0 || (path[n] != 0 && path[n] != '/'))
		return 0;
	*name = path[n] ? path + n + 1 : path + n;
	return 1;
}

static int sync_any(int file, const char *call)
{
	char path[PATH_MAX];
	const char *name;

	if (!in_folder(file, path, &name)) {
		int (*real)(int) = (int (*)(int))dlsym(RTLD_NEXT, call);
		return real(file);
	}
	usleep(SYNC_MICROSECONDS);
	pthread_mutex_lock(&one_at_a_time);
	if (*name && syncs_left > 0 && --syncs_left == 0)
		kill(getpid(), SIGKILL);
	if (!*name)
		sync_folder();
	else if (!loses || !ends_with(name, loses))
		sync_file(file, name);
	pthread_mutex_unlock(&one_at_a_time);
	return 0;
}

int fsync(int file) { return sync_any(file, "fsync"); }

int fdatasync(int file) { return sync_any(file, "fdatasync"); }

/* A file that is gone frees its inode's number for another, which has nothing on the disk yet. What
 * an unsynced name still holds there stays: it is a link of its own. */
int unlink(const char *path)
{
	int (*real)(const char *) = (int (*)(const char *))dlsym(RTLD_NEXT, "unlink");
	char inode[PATH_MAX];
	struct stat status;
	size_t n = strlen(folder);

	if (strncmp(path, folder, n) != 0 || path[n] != '/' || stat(path, &status) != 0)
		return real(path);
	pthread_mutex_lock(&one_at_a_time);
	int result = real(path);
	if (result == 0) {
		inode_path(inode, status.st_ino);
		real(inode);
	}
	pthread_mutex_unlock(&one_at_a_time);
	return result;
}
