/* Files appear whole or not at all: written beside the target, then put in place by link or rename. */
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

/* A new file beside the target that nobody else has, with the rights any new file gets. */
static int open_temporary(struct sag_out *out, size_t room)
{
    enum {
        MOST_TRIES = 100
    };
    int file = -1;
    for (int i = 0; i < MOST_TRIES && file < 0; i++) {
        snprintf(out->temporary, room, "%s.%ld-%d.tmp", out->path, (long)getpid(), i);
        file = open(out->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file < 0 && errno != EEXIST)
            break;
    }
    return file;
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
    enum sag_status status = SAG_OK;
    if (!path || strcmp(path, "-") == 0) {
        out->stream = stdout;
    } else {
        out->path = resolved(path);
        size_t room = out->path ? strlen(out->path) + 40 : 1; /* ".", a process number, a try, ".tmp" */
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
    free(out->path);
    free(out->temporary);
    free(out);
}

/* link() refuses to replace what appeared meanwhile; a folder without hard links gets rename(). */
static int put_in_place(const struct sag_out *out)
{
    if (out->direct)
        return 0;
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
