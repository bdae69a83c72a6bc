/* Files appear whole or not at all: written without a name where the file system can do that, else beside the target,
   then put in place by link or rename. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "sagband/write.h"

struct sag_out {
    FILE *stream;
    char *path, *temporary; /* NULL for standard output */
    int nameless;           /* a second hold on a file that has no name yet; -1: it has one */
    bool force;
    bool direct; /* no temporary file: a pipe or a device */
};

static enum sag_status complain(struct sag_diags *diags, const char *path, const char *what, const char *why)
{
    struct sag_shown shown;
    sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "%s: %s%s%s", sag_shown(&shown, path, strlen(path)), what,
                 *why ? ": " : "", why);
    return SAG_IO;
}

/* The path by which a file without a name can get one. */
static char *by_number(char *out, size_t room, int file)
{
    snprintf(out, room, "/proc/self/fd/%d", file);
    return out;
}

/* A new file in the target's folder that has no name until it is whole: whatever ends the process, nothing is left.
   -1: this file system, or one without /proc, cannot do it. */
static int open_nameless(struct sag_out *out, size_t room)
{
    char number[40];
    struct stat by_name, by_hold;
    const char *slash = strrchr(out->path, '/');
    size_t length = slash == out->path ? 1 : slash ? (size_t)(slash - out->path) : 0;
    snprintf(out->temporary, room, "%.*s", (int)length, slash ? out->path : "");
    int file = open(slash ? out->temporary : ".", O_WRONLY | O_TMPFILE | O_CLOEXEC, 0666);
    *out->temporary = '\0'; /* nothing to unlink yet */
    out->nameless = file >= 0 ? fcntl(file, F_DUPFD_CLOEXEC, 0) : -1;
    if (out->nameless >= 0 && stat(by_number(number, sizeof number, out->nameless), &by_name) == 0 &&
        fstat(file, &by_hold) == 0 && by_name.st_ino == by_hold.st_ino && by_name.st_dev == by_hold.st_dev)
        return file;
    if (file >= 0)
        close(file);
    if (out->nameless >= 0)
        close(out->nameless);
    out->nameless = -1;
    return -1;
}

/* Try names beside the target until one is free. `take`: what makes it; below 0 with EEXIST when it is there. */
static int take_free_name(struct sag_out *out, size_t room, int (*take)(const struct sag_out *out))
{
    enum {
        MOST_TRIES = 100
    };
    int taken = -1;
    for (int i = 0; i < MOST_TRIES && taken < 0; i++) {
        snprintf(out->temporary, room, "%s.%ld-%d.tmp", out->path, (long)getpid(), i);
        taken = take(out);
        if (taken < 0 && errno != EEXIST)
            break;
    }
    return taken;
}

static int open_named(const struct sag_out *out)
{
    return open(out->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
}

static int give_name(const struct sag_out *out, const char *name)
{
    char number[40];
    return linkat(AT_FDCWD, by_number(number, sizeof number, out->nameless), AT_FDCWD, name, AT_SYMLINK_FOLLOW);
}

static int give_temporary_name(const struct sag_out *out)
{
    return give_name(out, out->temporary);
}

/* A new file that nobody else has, with the rights any new file gets. */
static int open_temporary(struct sag_out *out, size_t room)
{
    int file = open_nameless(out, room);
    return file >= 0 ? file : take_free_name(out, room, open_named);
}

/* Room for a path with ".", a process number, a try and ".tmp". */
static size_t room_for_temporary(const struct sag_out *out)
{
    return out->path ? strlen(out->path) + 40 : 1;
}

/* What is no regular file (a pipe, a device) is written straight to: putting a file in its place would destroy it. */
static enum sag_status open_beside(struct sag_out *out, size_t room, struct sag_diags *diags)
{
    struct stat there;
    bool exists = stat(out->path, &there) == 0;
    if (exists && !S_ISREG(there.st_mode) && !S_ISDIR(there.st_mode)) {
        out->stream = fopen(out->path, "w");
        out->direct = true;
    } else if (exists && !out->force) {
        return complain(diags, out->path, "exists already; --force overwrites it", "");
    } else {
        int file = open_temporary(out, room);
        if (file >= 0 && exists) /* the new contents keep the old file's rights, as far as we may set them */
            (void)!fchmod(file, there.st_mode & 07777);
        out->stream = file >= 0 ? fdopen(file, "w") : NULL;
        if (!out->stream && file >= 0) {
            close(file);
            unlink(out->temporary);
        }
    }
    return out->stream ? SAG_OK : complain(diags, out->path, "cannot be written", strerror(errno));
}

/* The path itself, or what a symbolic link at it points to. */
static char *resolved(const char *path)
{
    char *target = realpath(path, NULL);
    return target ? target : strdup(path);
}

enum sag_status sag_out_open(struct sag_out **opened, const char *path, bool force, struct sag_diags *diags)
{
    struct sag_out *out = calloc(1, sizeof *out);
    *opened = NULL;
    if (!out)
        return SAG_NO_MEMORY;
    out->force = force;
    out->nameless = -1;
    enum sag_status status = SAG_OK;
    if (!path || strcmp(path, "-") == 0) {
        out->stream = stdout;
    } else {
        out->path = resolved(path);
        size_t room = room_for_temporary(out);
        out->temporary = malloc(room);
        status = out->path && out->temporary ? open_beside(out, room, diags) : SAG_NO_MEMORY;
    }
    if (status == SAG_OK) {
        *opened = out;
        return SAG_OK;
    }
    free(out->path);
    free(out->temporary);
    free(out);
    return status;
}

FILE *sag_out_stream(struct sag_out *out)
{
    return out->stream;
}

static void release(struct sag_out *out)
{
    if (out->nameless >= 0)
        close(out->nameless);
    free(out->path);
    free(out->temporary);
    free(out);
}

/* link() refuses to replace what appeared meanwhile; a folder without hard links gets rename(). */
static int put_in_place(struct sag_out *out)
{
    if (out->direct)
        return 0;
    if (out->nameless >= 0 && !out->force)
        return give_name(out, out->path);
    if (out->nameless >= 0 && take_free_name(out, room_for_temporary(out), give_temporary_name) < 0) {
        *out->temporary = '\0'; /* that name is somebody else's */
        return -1;
    }
    if (out->force)
        return rename(out->temporary, out->path);
    if (link(out->temporary, out->path) == 0) {
        unlink(out->temporary);
        return 0;
    }
    if (errno == EEXIST)
        return -1;
    return rename(out->temporary, out->path);
}

static enum sag_status commit(struct sag_out *out, struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    const char *why = strerror(errno); /* of the write that failed, if one did before */
    bool failed = ferror(out->stream);
    if (!failed && fflush(out->stream) != 0) {
        failed = true;
        why = strerror(errno);
    }
    if (!out->path) {
        if (failed)
            status = complain(diags, "standard output", "could not be written to its end", why);
        release(out);
        return status;
    }
    if (!failed && !out->direct && fsync(fileno(out->stream)) != 0 && errno != EINVAL) {
        failed = true;
        why = strerror(errno);
    }
    if (fclose(out->stream) != 0 && !failed) {
        failed = true;
        why = strerror(errno);
    }
    if (!failed && put_in_place(out) != 0) {
        failed = true;
        why = strerror(errno);
    }
    if (failed) {
        if (!out->direct)
            unlink(out->temporary);
        status = complain(diags, out->path, "could not be written", why);
    }
    release(out);
    return status;
}

static void drop(struct sag_out *out)
{
    if (out->path) {
        fclose(out->stream);
        if (!out->direct)
            unlink(out->temporary);
    }
    release(out);
}

enum sag_status sag_out_close(struct sag_out *out, enum sag_status written, struct sag_diags *diags)
{
    if (written == SAG_OK || (written == SAG_IO && ferror(out->stream)))
        return commit(out, diags);
    drop(out);
    return written;
}

bool sag_same_file(const char *left, const char *right)
{
    struct stat a, b;
    return left && right && stat(left, &a) == 0 && stat(right, &b) == 0 && a.st_dev == b.st_dev &&
           a.st_ino == b.st_ino && S_ISREG(a.st_mode);
}

enum sag_status sag_out_folder(const char *path, struct sag_diags *diags)
{
    struct stat there;
    if (mkdir(path, 0777) == 0)
        return SAG_OK;
    int why = errno;
    if (why == EEXIST && stat(path, &there) == 0 && S_ISDIR(there.st_mode))
        return SAG_OK;
    return complain(diags, path, "cannot be used as a folder", strerror(why));
}
